import { springbackOf } from '../document/lookUp.ts'
import { say } from '../document/sentence.ts'
import { ANGLE_SLACK_DEG, deg, finding, type RouteCheck } from './runContext.ts'

/** Must any bend be commanded past the bender's stop? Commanded is wanted plus springback, where that is known. */
export const angleBeyondStop: RouteCheck = ({ route, run, bender, tooling }) => {
  if (!bender || !tooling) return []
  const spring = springbackOf(bender, run)
  return route.bends.flatMap((bend, k) => {
    const back = spring ? spring.offset + spring.perDegree * bend.angle : 0
    const measured = bend.angle + back
    if (measured <= tooling.maxAngle + ANGLE_SLACK_DEG) return []
    const how = spring ? ` (${deg(bend.angle)} wanted, ${deg(back)} springback)` : ', springback not known'
    return [
      finding(run, {
        rule: 'angleBeyondStop',
        severity: 'error',
        parts: [bend.vertexId],
        where: { kind: 'bend', index: k },
        measured,
        limit: tooling.maxAngle,
        unit: 'deg',
        sentence: say`bend ${String(k + 1)} must go to ${deg(measured, tooling.maxAngle)}${how}; the stop of ${bender.name} allows ${deg(tooling.maxAngle)}`,
      }),
    ]
  })
}
