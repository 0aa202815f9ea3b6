import type { Model, SkidDocument } from '../../document/types.ts'
import { solvedRuns } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { loadedOf, modelStore } from '../../store/modelStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Ray } from './cameraRig.ts'
import type { Pickable } from './pick.ts'
import { type ModelHit, rayMeetsModels } from './rayModels.ts'

/** Routes are drawn on while laying out only: a review must not move a point by a slip of the hand. */
export const canDraw = (): boolean => sessionStore.getState().mode === 'layingOut'

/** The document's bodies as they are drawn now. */
export function surfacesShown(document: SkidDocument) {
  const { hiddenBodies: hidden, section } = sessionStore.getState()
  const models = modelStore.getState()
  return { document, treesOf: (m: Model) => loadedOf(models, m)?.trees ?? [], hidden, section }
}

/** The part of a model, as it is drawn now, that a ray meets first. */
export function modelUnder(ray: Ray): ModelHit | null {
  const { document } = documentStore.getState()
  if (document.models.length === 0) return null
  return rayMeetsModels(ray, document, surfacesShown(document))
}

/** What can be hit in the scene now. */
export function pickable(): Pickable {
  const { document } = documentStore.getState()
  const { hiddenRuns, hiddenBodies, runInHand, showRoute, section } = sessionStore.getState()
  return {
    document,
    solved: solvedRuns(document),
    hidden: hiddenRuns,
    handlesOf: showRoute && canDraw() ? runInHand : null,
    meetModel: modelUnder,
    section,
    hiddenBodies,
  }
}
