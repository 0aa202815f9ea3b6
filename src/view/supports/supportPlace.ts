import { type PlacedSupport, placedSupports } from '../../checks/supportsOnTube.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { addScaled, dot, sub, type Vec3 } from '../../geometry/vec3.ts'
import { nearestAlong } from '../../solve/nearestAlong.ts'
import type { LinePiece, SolvedRoute } from '../../solve/types.ts'

/** What a support would have before or after it along the tube, and how much tube lies between, mm. */
export interface Neighbour {
  readonly name: string
  readonly away: number
}

export interface SupportPlace {
  /** On the centre line. */
  readonly at: Vec3
  readonly straight: number
  /** From where the straight starts, mm, and what is there: "bend 1", "end A". */
  readonly on: number
  readonly from: string
  readonly before: Neighbour
  readonly after: Neighbour
}

/** Nearer than this to another one along the tube they would be one. mm */
const SAME_MM = 1e-3

/**
 * Where a support goes that is pointed at near `p`: on the straight there, a whole number of steps from its start.
 *
 * @param step mm; null leaves the place as it is.
 * @returns the place, or as the end of a sentence why there is none.
 */
export function supportPlace(
  document: SkidDocument,
  run: Run,
  route: SolvedRoute,
  p: Vec3,
  step: number | null,
): SupportPlace | { readonly refused: string } {
  const { piece } = nearestAlong(route, p)
  if (piece.kind === 'arc')
    return { refused: `that is bend ${piece.bend + 1}: a support needs straight tube` }
  const long = piece.to - piece.from
  if (!(long > 0)) return { refused: `straight ${piece.straight + 1} has no length` }
  const on = onStep(Math.min(Math.max(dot(sub(p, piece.start), piece.direction), 0), long), long, step)
  const along = piece.from + on
  const own = placedSupports(document.supports, run.id, route).filter(s => s.holds)
  const there = own.find(s => Math.abs(s.along - along) < SAME_MM)
  if (there) return { refused: `${there.support.name} is there already` }
  return {
    at: addScaled(piece.start, piece.direction, on),
    straight: piece.straight,
    on,
    from: startOf(piece),
    before: neighbour(own.filter(s => s.along < along).at(-1), along, 'end A', 0),
    after: neighbour(
      own.find(s => s.along > along),
      along,
      'end B',
      route.developedLength,
    ),
  }
}

/** What a straight starts at, seen from end A. */
const startOf = ({ straight }: LinePiece): string => (straight === 0 ? 'end A' : `bend ${straight}`)

/** The nearest whole step that is still on the straight. */
function onStep(on: number, long: number, step: number | null): number {
  if (step === null) return on
  const steps = Math.min(Math.round(on / step), Math.floor(long / step + 1e-9))
  // As a sum of steps it would carry digits that nobody chose: 10.200000000000001.
  return Number((steps * step).toPrecision(12))
}

const neighbour = (
  support: PlacedSupport | undefined,
  along: number,
  end: string,
  endAlong: number,
): Neighbour =>
  support
    ? { name: support.support.name, away: Math.abs(support.along - along) }
    : { name: end, away: Math.abs(endAlong - along) }
