import { mm, say } from '../document/sentence.ts'
import type { Fitting } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { finding, type RouteCheck, straightName } from './runContext.ts'

/**
 * Does the straight at each port take the nut and ferrules outside the face? Insertion lies inside the face and is
 * counted apart. A tube without bends needs room for both nuts on its one straight.
 */
export const straightAtFitting: RouteCheck = ({ route, run, fittingA, fittingB }) => {
  const last = route.straights.length - 1
  const short = (end: 'A' | 'B', fitting: Fitting, shared: number): Finding[] => {
    const index = end === 'A' ? 0 : last
    const measured = route.straights[index]! - shared
    const limit = fitting.straightNeeded
    if (measured >= limit - LENGTH_SLACK_MM) return []
    const left = shared > 0 ? say` once the nut at end A has its ${mm(shared)}` : ''
    const is =
      measured >= 0
        ? say`, is ${mm(measured, limit)} outside ${fitting.name}${left}`
        : shared > 0
          ? say`, is ${mm(-measured)} too short for the nut at end A alone and leaves nothing at ${fitting.name}`
          : say`, leaves nothing outside ${fitting.name}: the bend reaches ${mm(-measured)} inside its face`
    return [
      finding(run, {
        rule: 'fittingStraight',
        severity: 'error',
        parts: [end, fitting.id],
        where: { kind: 'straight', index },
        measured,
        limit,
        unit: 'mm',
        sentence: say`${straightName(route, index)}${is}; its nut and ferrules need ${mm(limit, measured)} (and ${mm(fitting.insertionDepth)} of insertion inside): ${mm(limit - measured)} missing`,
      }),
    ]
  }
  const shared = last === 0 ? (fittingA?.straightNeeded ?? 0) : 0
  return [...(fittingA ? short('A', fittingA, 0) : []), ...(fittingB ? short('B', fittingB, shared) : [])]
}
