import { angleText, isAbove } from '../document/angleRange.ts'
import { say } from '../document/sentence.ts'
import type { Fitting } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { cross, DEG, dot, length, negate, type Vec3 } from '../geometry/vec3.ts'
import type { LinePiece } from '../solve/types.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * How far a leg may be off its port's axis, degrees. Half a degree is 0.9 mm in 100 mm, about what tube and nut give
 * way by hand (common practice, no source); it lies between classes A (20′) and B (45′) of ISO 13920 for legs up to
 * 400 mm (read in a public copy).
 */
export const PORT_AXIS_LIMIT_DEG = 0.5

/** Do the first and the last leg leave their ports along the ports' axes? */
export const portAxis: RouteCheck = ({ route, run, fittingA, fittingB }) => {
  const off = (end: 'A' | 'B', fitting: Fitting | null, leaving: Vec3): Finding[] => {
    if (!fitting) return []
    const measured = Math.atan2(length(cross(fitting.axis, leaving)), dot(fitting.axis, leaving)) / DEG
    if (!isAbove(measured, PORT_AXIS_LIMIT_DEG)) return []
    const leg = end === 'A' ? 'first' : 'last'
    return [
      finding(run, {
        rule: 'portAxis',
        severity: 'error',
        parts: [end, fitting.id],
        where: { kind: end === 'A' ? 'endA' : 'endB', index: null },
        measured,
        limit: PORT_AXIS_LIMIT_DEG,
        unit: 'deg',
        sentence: say`the ${leg} leg is ${angleText(measured, PORT_AXIS_LIMIT_DEG)} off the axis of ${fitting.name} at end ${end}; at most ${angleText(PORT_AXIS_LIMIT_DEG)} lets the nut start`,
      }),
    ]
  }
  const first = route.pieces[0] as LinePiece
  const last = route.pieces[route.pieces.length - 1] as LinePiece
  return [...off('A', fittingA, first.direction), ...off('B', fittingB, negate(last.direction))]
}
