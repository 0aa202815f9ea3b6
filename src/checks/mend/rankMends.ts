import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import { dot } from '../../geometry/vec3.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import type { Mend, Miss } from './mendTypes.ts'

const MOST_WAYS = 3
/** An angle or turn that differs by less is the same: under any bench's reading, over rounding. Degrees. */
const SAME_DEG = 1e-6

/** Bends of `after` whose angle or turn is another than in `before`, and bends that came or went. */
export function bendsChanged(before: SolvedRoute | null, after: SolvedRoute | null): number {
  const known = new Map(before?.bends.map(b => [b.vertexId, b]))
  let changed = 0
  for (const bend of after?.bends ?? []) {
    const was = known.get(bend.vertexId)
    known.delete(bend.vertexId)
    const turn = Math.abs((was?.rotation ?? 0) - (bend.rotation ?? 0))
    if (!was || Math.abs(was.angle - bend.angle) > SAME_DEG || Math.min(turn, 360 - turn) > SAME_DEG)
      changed++
  }
  return changed + known.size
}

type Ranked = Pick<Mend, 'first' | 'last' | 'bendsChanged' | 'endsMoved'>

/**
 * Small is good: ends that stay before ends that move, then bends that stay as they are (a square elbow is worth more
 * than a short way: an odd angle and an odd turn cost the bender twice), then few points.
 */
export const rankOf = ({ first, last, bendsChanged, endsMoved }: Ranked): number =>
  endsMoved * 1e8 + bendsChanged * 1e4 + (last - first)

/**
 * The best by rank and then by the way moved; none that only moves more points the same way as another. The shortest
 * way of all is among them, for whoever would rather change bends than go far.
 */
export function chosen(found: readonly Mend[]): Mend[] {
  const ways: Mend[] = []
  const isNew = (mend: Mend) => !ways.some(w => isMoreOf(mend, w))
  const ranked = [...found].sort((a, b) => rankOf(a) - rankOf(b) || a.by - b.by)
  for (const mend of ranked) if (ways.length < MOST_WAYS && isNew(mend)) ways.push(mend)
  const [shortest] = [...ranked].sort((a, b) => a.endsMoved - b.endsMoved || a.by - b.by)
  if (shortest && isNew(shortest)) ways[Math.min(ways.length, MOST_WAYS - 1)] = shortest
  return ways
}

/** Whether a way moves what another moves and perhaps more, on the same line, at least as far and at no fewer bends. */
function isMoreOf(mend: Mend, other: Mend): boolean {
  if (mend.runId !== other.runId || mend.first > other.first || mend.last < other.last) return false
  if (Math.abs(dot(mend.direction, other.direction)) <= 1 - 1e-9) return false
  return mend.by >= other.by && mend.bendsChanged >= other.bendsChanged
}

/** Whether a failed move is a nearer miss than another: one that reached and broke something, by the shorter way. */
export function isNearer(a: Miss, b: Miss): boolean {
  if ((a.breaks === '') !== (b.breaks === '')) return a.breaks !== ''
  return a.breaks === '' ? a.gap > b.gap : a.by < b.by
}

/** Why no move mends it, with the nearest miss. */
export function reasonOf(miss: Miss | null, reach: number, unit: LengthUnit): string {
  const show = (mm: number) => formatLength(mm, unit, { withUnit: true })
  if (!miss) return 'No point of it can be moved: the route has no solution then.'
  const move = `${miss.what} of ${miss.tag} by ${show(miss.by)} ${miss.way}`
  return miss.breaks === ''
    ? `No move up to ${show(reach)} gives the ${show(miss.required)} required. The most, ${show(miss.gap)}, came from moving ${move}.`
    : `Every move up to ${show(reach)} that would fix it breaks something else. The shortest, ${move}: ${miss.breaks}.`
}
