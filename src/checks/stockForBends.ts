import { formatAngle } from '../document/quantity.ts'
import { mm, say } from '../document/sentence.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { finding, type RouteCheck } from './runContext.ts'

/** Does every bend take stock? One that stretches by its whole arc or more would be made of none: the figure is wrong. */
export const stockForBends: RouteCheck = ({ route, run, solved, bender, tooling }) => {
  if (!bender || !tooling) return []
  const bad = route.bends.findIndex((b, k) => solved.stretch[k]! >= b.arcLength - LENGTH_SLACK_MM)
  if (bad < 0) return []
  const [arc, stretch] = [route.bends[bad]!.arcLength, solved.stretch[bad]!]
  return [
    finding(run, {
      rule: 'stretchImpossible',
      severity: 'error',
      parts: [bender.id, tooling.id],
      where: { kind: 'bend', index: bad },
      measured: stretch,
      limit: arc,
      unit: 'mm',
      sentence: say`bend ${String(bad + 1)} of ${formatAngle(route.bends[bad]!.angle)}° would stretch by ${mm(stretch, arc)}, but its whole arc is ${mm(arc, stretch)}: correct the stretch of tooling ${tooling.id}`,
    }),
  ]
}
