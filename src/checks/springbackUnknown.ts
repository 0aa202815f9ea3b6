import { springbackOf } from '../document/lookUp.ts'
import { say } from '../document/sentence.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * Is it known how far past the finished angle the bender must go? Without it clearance and stop are checked to the
 * finished angles only, and a CLR that is measured on the die opens by nobody knows how much.
 */
export const springbackUnknown: RouteCheck = ({ route, run, bender, tooling }) => {
  if (!bender || !tooling || route.bends.length === 0 || springbackOf(bender, run) !== null) return []
  const opens = tooling.clrMeasured === 'die' ? ', and the radius that comes out is taken as the die’s' : ''
  return [
    finding(run, {
      rule: 'springbackUnknown',
      severity: 'notChecked',
      parts: [bender.id],
      where: { kind: 'run', index: null },
      sentence: say`how far ${bender.name} must bend past the finished angle is not known for ${run.tube.material}: clearance from the bender and the stop are checked to the finished angles only${opens}; a trial bend of this tube on this bender makes it known`,
    }),
  ]
}
