import { solvedRuns } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Pickable } from './pick.ts'

/** Routes are drawn on while laying out only: a review must not move a point by a slip of the hand. */
export const canDraw = (): boolean => sessionStore.getState().mode === 'layingOut'

/** What can be hit in the scene now. */
export function pickable(): Pickable {
  const { document } = documentStore.getState()
  const { hiddenRuns, runInHand, showRoute } = sessionStore.getState()
  return {
    document,
    solved: solvedRuns(document),
    hidden: hiddenRuns,
    handlesOf: showRoute && canDraw() ? runInHand : null,
  }
}
