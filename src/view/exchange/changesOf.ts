import { endPoint, fittingOf } from '../../document/lookUp.ts'
import { formatLength } from '../../document/quantity.ts'
import type { Run, RunEnd, SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import { sessionStore } from '../../store/sessionStore.ts'

/** Below this a point has not moved. Millimetres; what a table loses in writing. */
const SAME_MM = 1e-6

const shown = (mm: number) => formatLength(mm, sessionStore.getState().unit, { withUnit: true })
const count = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`

function routeOf(document: SkidDocument, run: Run): Vec3[] {
  const ends = [endPoint(document, run.endA), endPoint(document, run.endB)]
  return [ends[0], ...run.vertices.map(v => v.at), ends[1]].filter(p => p != null)
}

/** What becomes of a run when its points are replaced: one sentence for each thing that a person may not expect. */
export function changesOf(before: SkidDocument, was: Run, after: SkidDocument, now: Run): string[] {
  const [old, fresh] = [routeOf(before, was), routeOf(after, now)]
  const says: string[] = []
  if (old.length !== fresh.length) says.push(`${count(old.length, 'point')} become ${fresh.length}.`)
  const moves = fresh.slice(0, old.length).map((p, i) => distance(p, old[i]!))
  const moved = moves.filter(d => d > SAME_MM)
  if (moved.length > 0)
    says.push(
      `${moved.length} of ${count(moves.length, 'point')} ${moved.length === 1 ? 'moves' : 'move'}, by ${shown(Math.max(...moved))} at most.`,
    )
  else if (old.length === fresh.length) says.push('No point moves.')
  says.push(...endChange(before, 'A', was.endA, after, now.endA))
  says.push(...endChange(before, 'B', was.endB, after, now.endB))
  const held = before.supports.filter(s => s.run === was.id).length
  if (held > 0 && moved.length > 0) says.push(`${count(held, 'support')} stay where they are.`)
  says.push(`Its tube, CLR ${shown(was.clr)} and bender stay.`)
  return says
}

function endChange(
  before: SkidDocument,
  name: 'A' | 'B',
  was: RunEnd,
  after: SkidDocument,
  now: RunEnd,
): string[] {
  const left = fittingOf(before, was)
  const entered = fittingOf(after, now)
  if (left && left.id !== entered?.id) {
    const at = endPoint(after, now)
    const away = at ? `, ${shown(distance(left.position, at))} away` : ''
    return [`End ${name} leaves port ${left.name}: it is ${entered ? `in ${entered.name}` : 'free'}${away}.`]
  }
  return entered && !left ? [`End ${name} is in port ${entered.name}.`] : []
}
