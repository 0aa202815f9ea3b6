import { angleText, isAbove } from '../document/angleRange.ts'
import { springbackOf } from '../document/lookUp.ts'
import { say } from '../document/sentence.ts'
import { springbackAt } from '../solve/making.ts'
import { finding, type RouteCheck } from './runContext.ts'

/** Must any bend be commanded past the bender's stop? Commanded is wanted plus springback, where that is known. */
export const angleBeyondStop: RouteCheck = ({ route, run, bender, tooling }) => {
  if (!bender || !tooling) return []
  const stop = tooling.maxAngle
  const spring = springbackOf(bender, run)
  return route.bends.flatMap((bend, k) => {
    const back = springbackAt(spring, bend.angle)
    const measured = bend.angle + back
    if (!isAbove(measured, stop)) return []
    const how = spring
      ? ` (finished angle ${angleText(bend.angle)}, springback ${angleText(back)})`
      : ', springback not known'
    return [
      finding(run, {
        rule: 'angleBeyondStop',
        severity: 'error',
        parts: [bend.vertexId],
        where: { kind: 'bend', index: k },
        measured,
        limit: stop,
        unit: 'deg',
        sentence: say`bend ${String(k + 1)} must go to ${angleText(measured, stop)}${how}; the stop of ${bender.name} allows ${angleText(stop, measured)}`,
      }),
    ]
  })
}
