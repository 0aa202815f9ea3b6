import { askAboutSpringback } from '../bender/askAboutSpringback.ts'
import { springbackOf } from '../document/lookUp.ts'
import { say } from '../document/sentence.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * Does the bender's springback record give dial readings that a tube and this bender allow? Limits: springbackLimits.ts.
 * That a bend goes past the stop is said by angleBeyondStop, which looks at the same reading.
 */
export const springbackPlausible: RouteCheck = ({ route, run, bender, tooling }) => {
  const record = bender && tooling && springbackOf(bender, run)
  if (!bender || !record) return []
  const wanted = route.bends.map(b => b.angle)
  const doubt = askAboutSpringback(record, wanted, null)
  if (doubt === null) return []
  return [
    finding(run, {
      rule: 'springbackImplausible',
      severity: 'warning',
      parts: [bender.id],
      where: { kind: 'run', index: null },
      ...(doubt.measured === null ? {} : { measured: doubt.measured }),
      ...(doubt.limit === null ? {} : { limit: doubt.limit, unit: 'deg' }),
      sentence: say`the springback of ${record.material} on record for ${bender.name} is not plausible: ${doubt.sentence}`,
    }),
  ]
}
