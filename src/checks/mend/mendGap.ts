import { runOf } from '../../document/lookUp.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { sub, unit as unitVector } from '../../geometry/vec3.ts'
import { SAME_GAP } from '../../skid/clearanceFindings.ts'
import type { MeshBody } from '../../skid/parts.ts'
import { gapTo, partsOf } from '../../skid/surroundings.ts'
import { solveRun } from '../../solve/solveRun.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { isGapFinding, MEND_REACH } from './gapFinding.ts'
import type { Mend, Mends, Miss } from './mendTypes.ts'
import { type Line, type Move, movesOf, shifted } from './moves.ts'
import { bendsChanged, chosen, isNearer, rankOf, reasonOf } from './rankMends.ts'
import { moveTrier, type Side, type Tried } from './tryMove.ts'

/** Most measurements of one search; about two seconds. */
const BUDGET = 40_000

/**
 * Looks for ways to mend a clearance finding by moving points of one of its runs. A generator: it gives its progress
 * (0 … 1) between tries, so that whoever runs it can stop, and returns what it found. The same document, finding and
 * unit (which decides what a round figure is) give the same ways.
 */
export function* mendGap(
  document: SkidDocument,
  finding: Finding,
  meshes: readonly MeshBody[],
  unit: LengthUnit,
): Generator<number, Mends> {
  const tries = triesFor(document, finding, meshes, unit)
  if (typeof tries === 'string') return { ways: [], reason: tries, complete: true }
  const found: Mend[] = []
  let nearest: Miss | null = null
  let effort = 0
  for (const [k, { move, tryIt }] of tries.entries()) {
    if (effort > BUDGET) break
    yield k / tries.length
    const { mend, miss, effort: spent } = tryIt(move)
    effort += spent
    if (mend) found.push(mend)
    if (miss && (!nearest || isNearer(miss, nearest))) nearest = miss
  }
  const ways = chosen(found)
  const reason = ways.length > 0 ? '' : reasonOf(nearest, MEND_REACH, unit)
  return { ways, reason, complete: effort <= BUDGET }
}

interface Try {
  readonly move: Move
  readonly tryIt: (move: Move) => Tried
  readonly rank: number
}

/** All moves worth trying, the best kinds first; or, in a sentence, why there is none. */
function triesFor(
  document: SkidDocument,
  finding: Finding,
  meshes: readonly MeshBody[],
  unit: LengthUnit,
): Try[] | string {
  const first = runOf(document, finding.where.run ?? '')
  const { other } = finding.where
  if (!first || other === undefined || !isGapFinding(finding))
    return 'This finding is not a gap between two parts.'
  const second = other === first.id ? null : runOf(document, other)
  const parts = partsOf(document, meshes)
  const tries: Try[] = []
  let isShort = false
  for (const [run, otherId] of [[first, other] as const, ...(second ? [[second, first.id] as const] : [])]) {
    const tube = parts.tubeOf(run)
    const around = tube ? parts.around(run, tube, MEND_REACH) : []
    const target = around.find(n => n.id === otherId)
    const gap = tube && target && gapTo(tube, target, target.required)
    if (!tube || !target || !gap || gap.gap >= target.required - SAME_GAP) continue
    isShort = true
    const away = unitVector(gap.gap < 0 ? sub(gap.pointB, gap.pointA) : sub(gap.pointA, gap.pointB))
    const line: Line | null = away && {
      direction: away,
      forwards: target.part ? `straight away from ${target.name}` : 'straight apart',
      backwards: target.part ? `straight towards ${target.name}` : 'straight together',
    }
    const near = [gap.shapeA, ...(target.part ? [] : [gap.shapeB])].flatMap(k => besides(tube.route, k))
    const side: Side = { run, tube, target, others: around.filter(n => n !== target) }
    const tryIt = moveTrier(document, side, unit)
    const end = run.vertices.length + 1
    for (const move of movesOf(document, run, near, line)) {
      const after = solveRun(document, shifted(document, move, 1)).route
      const endsMoved = (move.first === 0 ? 1 : 0) + (move.last === end ? 1 : 0)
      const rank = rankOf({ ...move, endsMoved, bendsChanged: bendsChanged(tube.route, after) })
      tries.push({ move, tryIt, rank })
    }
  }
  if (!isShort) return 'This gap is already as wide as required, or one of the two cannot be measured.'
  if (tries.length === 0) return 'No point beside it can move: the ends are in ports, and there is no other.'
  return tries.sort((a, b) => a.rank - b.rank)
}

/** Route points whose move shifts a piece of the tube: those at the ends of its straight, or its bend's own. */
function besides(route: SolvedRoute, shape: number): number[] {
  const piece = route.pieces[shape]
  if (!piece) return []
  if (piece.kind === 'arc') return [route.bends[piece.bend]!.vertex]
  const from = route.bends[piece.straight - 1]?.vertex ?? 0
  const to = route.bends[piece.straight]?.vertex ?? route.points.length - 1
  return Array.from({ length: to - from + 1 }, (_, i) => from + i)
}
