import { editFitting, editSolid, movePoint } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import { formatLength } from '../../../document/quantity.ts'
import type { SkidDocument } from '../../../document/types.ts'
import { add, scale, type Vec3 } from '../../../geometry/vec3.ts'
import { solvedRunOf } from '../../../store/derived.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { type LiveClearance, liveClearance } from '../../../store/liveClearance.ts'
import { type Part, sessionStore } from '../../../store/sessionStore.ts'
import { basis, type Rig } from '../cameraRig.ts'
import { liveWords } from '../liveWords.ts'
import { AXES, stillAxis } from '../pointLimits.ts'
import { pointName, routeOf } from '../routeOf.ts'
import type { Stage } from '../stage.ts'

/** One press: 1 mm, or 1/16 in when inches are shown; ten times that with Shift. mm. */
const STEP = { mm: 1, in: 25.4 / 16, fraction: 25.4 / 16 } as const

/** The world axis, signed, that lies nearest to where an arrow key points on the screen; null for another key. */
export function nudgeDirection(key: string, rig: Rig): Vec3 | null {
  if (key === 'PageUp') return [0, 0, 1]
  if (key === 'PageDown') return [0, 0, -1]
  const { right, up, back } = basis(rig)
  const nearest = (v: Vec3, among: readonly number[]): Vec3 => {
    // The slack keeps x to the right in the isometric view, where x and y lie equally near.
    const k = among.reduce((best, i) => (Math.abs(v[i]!) > Math.abs(v[best]!) + 1e-6 ? i : best), among[0]!)
    return AXES.map((_, i) => (i === k ? Math.sign(v[k]!) || 1 : 0)) as unknown as Vec3
  }
  const sideways = nearest(right, [0, 1])
  const level = stillAxis(back) === 'z'
  const upwards: Vec3 = level ? nearest(up, sideways[0] !== 0 ? [1] : [0]) : [0, 0, 1]
  const ways: Record<string, Vec3> = {
    ArrowRight: sideways,
    ArrowLeft: scale(sideways, -1),
    ArrowUp: upwards,
    ArrowDown: scale(upwards, -1),
  }
  return ways[key] ?? null
}

/** What a part's move is called and does; null when it has no place of its own to move. */
function mover(document: SkidDocument, part: Part | null) {
  if (part?.kind === 'point') {
    const route = routeOf(document, part.run)
    const at = route?.points[route.ids.indexOf(part.point)]
    if (!route || !at) return null
    const end = part.point === 'A' ? route.run.endA : part.point === 'B' ? route.run.endB : null
    if (end?.kind === 'port') return null
    const name = pointName(route.ids, part.point)
    return { name, at, edit: (d: SkidDocument, to: Vec3) => movePoint(d, part.run, part.point, to) }
  }
  if (part?.kind === 'fitting') {
    const fitting = document.fittings.find(f => f.id === part.fitting)
    return (
      fitting && {
        name: fitting.name,
        at: fitting.position,
        edit: (d: SkidDocument, to: Vec3) => editFitting(d, fitting.id, { position: to }),
      }
    )
  }
  if (part?.kind === 'solid') {
    const solid = document.solids.find(s => s.id === part.solid)
    return (
      solid && {
        name: solid.name,
        at: solid.at,
        edit: (d: SkidDocument, to: Vec3) => editSolid(d, solid.id, s => ({ ...s, at: to })),
      }
    )
  }
  return null
}

/** Moves the selection by arrow keys; a key held down is one step of history, from its press to its release. */
export function nudger(stage: Stage) {
  let moved: Vec3 = [0, 0, 0]
  let name = ''
  /** Kept from key to key, so that the words stay until the next are known. */
  let live: LiveClearance | null = null
  let again = () => {}
  /** What was done in words; with it, of a run's point, how near the run comes now: said again when it is known. */
  const tell = (done: string, runId: string | null) => {
    const { settled, document } = documentStore.getState()
    const { unit, say } = sessionStore.getState()
    const run = runId === null ? null : runOf(document, runId)
    const solved = run && solvedRunOf(document, run.id)
    if (!run || !solved?.route) return say(done)
    again = () => tell(done, run.id)
    if (!live?.holdsFor(settled, run.id)) {
      live?.stop()
      live = liveClearance(settled, run.id, () => again())
    }
    say(`${done}; nearest: ${liveWords(live.of(run, solved), unit).text}`)
  }
  const settle = () => {
    if (name) documentStore.getState().settle(`Nudge ${name}`)
    name = ''
    moved = [0, 0, 0]
  }
  return {
    /** True when the key was a nudge. */
    press(e: KeyboardEvent): boolean {
      const direction = nudgeDirection(e.key, stage.rig)
      if (!direction) return false
      if (!e.repeat) settle()
      const { selection, unit, say } = sessionStore.getState()
      const move = mover(documentStore.getState().settled, selection)
      if (!move) {
        say(
          'Select a point, a fitting or a solid first: arrow keys move it. An end in a port moves with its fitting.',
        )
        return true
      }
      name = move.name
      moved = add(moved, scale(direction, STEP[unit] * (e.shiftKey ? 10 : 1)))
      const to = add(move.at, moved)
      documentStore.getState().preview(d => move.edit(d, to))
      const place = to.map((v, k) => `${AXES[k]} ${formatLength(v, unit)}`).join(', ')
      tell(`${name}: ${place}`, selection?.kind === 'point' ? selection.run : null)
      return true
    },
    settle,
  }
}
