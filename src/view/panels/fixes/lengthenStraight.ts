import { runOf } from '../../../document/lookUp.ts'
import type { SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import { negate } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { LinePiece } from '../../../solve/types.ts'
import { best, type Group, groupsFrom, judge, shiftGroup, type Tried } from './shiftPoints.ts'

/** Enough rounds: each moves by what is still missing, and bends change little near the answer. */
const ROUNDS = 30
const EXACT_MM = 1e-9

/**
 * Makes one straight longer by `missing` mm by sliding neighbouring points along its leg, whichever of them changes
 * the bends least and breaks nothing. Ends in ports stay.
 */
export function lengthenStraight(
  document: SkidDocument,
  finding: Finding,
  straight: number,
  missing: number,
): Tried | null {
  const run = runOf(document, finding.where.run ?? '')
  const route = run && solveRun(document, run).route
  if (!run || !route || route.passedThrough.length > 0) return null
  const line = route.pieces.find((p): p is LinePiece => p.kind === 'line' && p.straight === straight)
  if (!line) return null
  const wanted = route.straights[straight]! + missing
  const slide = (group: Group, direction: LinePiece['direction']): Tried | null => {
    let by = missing
    for (let round = 0; round < ROUNDS; round++) {
      const next = shiftGroup(document, run, group, direction, by)
      const solved = solveRun(next, runOf(next, run.id)!).route
      const now = solved?.straights[straight]
      if (now === undefined || solved!.straights.length !== route.straights.length) return null
      const lacks = wanted - now
      if (Math.abs(lacks) <= EXACT_MM) return judge(document, next, finding, group.last - group.first)
      by += lacks
      if (!Number.isFinite(by) || Math.abs(by) > 1e6) return null
    }
    return null
  }
  return best([
    ...groupsFrom(run, straight + 1, 'B').map(g => slide(g, line.direction)),
    ...groupsFrom(run, straight, 'A').map(g => slide(g, negate(line.direction))),
  ])
}
