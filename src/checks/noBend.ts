import { angleText, isBelow } from '../document/angleRange.ts'
import { say } from '../document/sentence.ts'
import { NO_BEND_DEG } from '../solve/solveRun.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * Below this a bend cannot be made on purpose by hand, degrees: a bench bender's dial is read to about half a degree
 * (common practice, no source), and springback alone is larger.
 */
export const SMALLEST_BEND_DEG = 0.5

/** Is every vertex a bend? Those in line are passed through, which is said; those nearly in line cannot be made. */
export const noBend: RouteCheck = ({ route, run }) => [
  ...route.passedThrough.map(index =>
    finding(run, {
      rule: 'noBend',
      severity: 'note',
      parts: [route.pointIds[index]!],
      where: { kind: 'vertex', index },
      sentence: say`point ${String(index + 1)} is not a bend: its two legs are in line (within ${String(NO_BEND_DEG)}°), so the tube passes straight through`,
    }),
  ),
  ...route.bends.flatMap((bend, k) =>
    !isBelow(bend.angle, SMALLEST_BEND_DEG)
      ? []
      : [
          finding(run, {
            rule: 'smallBend',
            severity: 'warning',
            parts: [bend.vertexId],
            where: { kind: 'bend', index: k },
            measured: bend.angle,
            limit: SMALLEST_BEND_DEG,
            unit: 'deg',
            sentence: say`bend ${String(k + 1)} at point ${String(bend.vertex + 1)} is only ${angleText(bend.angle, SMALLEST_BEND_DEG)}; below ${angleText(SMALLEST_BEND_DEG)} it cannot be made by hand: put the point in line or bend more`,
          }),
        ],
  ),
]
