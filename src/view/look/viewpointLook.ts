import type { SkidDocument, Viewpoint } from '../../document/types.ts'
import type { Look } from '../../document/viewpointEdits.ts'
import { hiddenRunsOf } from '../../store/hiddenRuns.ts'
import { adoptSection } from '../../store/sectionStore.ts'
import { type SessionState, sessionStore } from '../../store/sessionStore.ts'
import type { Rig } from '../scene/cameraRig.ts'
import { standOfRig } from '../scene/viewFromCamera.ts'

type Seen = Pick<SessionState, 'section' | 'hiddenBy' | 'hiddenBodies'>

/** What is seen now, as a saved view holds it. */
export const lookNow = (
  rig: Rig,
  { section, hiddenBy, hiddenBodies }: Seen,
): Omit<Look, 'name' | 'note' | 'by' | 'on'> => ({
  ...standOfRig(rig),
  section,
  // A comparison is over when the view is shown again.
  hidden: [...hiddenRunsOf({ ...hiddenBy, comparison: new Set() }), ...hiddenBodies],
})

/** What was hidden, as the session has it, and how many of these the document no longer holds. */
export function hiddenOf(
  document: SkidDocument,
  hidden: readonly string[],
): { runs: ReadonlySet<string>; bodies: ReadonlySet<string>; gone: number } {
  const runs = new Set(document.runs.map(r => r.id))
  const bodies = new Set([...document.solids, ...document.models].map(b => b.id))
  const isBody = (id: string) => bodies.has(id) || document.models.some(m => id.startsWith(`${m.id}/`))
  return {
    runs: new Set(hidden.filter(id => runs.has(id))),
    bodies: new Set(hidden.filter(id => !runs.has(id) && isBody(id))),
    gone: hidden.filter(id => !runs.has(id) && !isBody(id)).length,
  }
}

/** Goes there: camera, section and what was hidden. A gap that was shown makes room. */
export function showViewpoint(document: SkidDocument, viewpoint: Viewpoint): void {
  const { set, hide, look, say } = sessionStore.getState()
  const { runs, bodies, gone } = hiddenOf(document, viewpoint.hidden)
  const { target, yaw, pitch, span, projection } = viewpoint
  hide({ hand: runs, isolation: null })
  set({ hiddenBodies: bodies, gap: null, projection })
  adoptSection(viewpoint.section)
  look({ kind: 'stand', stand: { target, yaw, pitch, span, projection } })
  const lost = gone > 0 ? ` ${gone} of the hidden things ${gone === 1 ? 'is' : 'are'} no longer there.` : ''
  say(`${viewpoint.name}.${lost}`)
}
