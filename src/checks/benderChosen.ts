import { dieOf } from '../document/lookUp.ts'
import { say } from '../document/sentence.ts'
import { notMeasured } from '../document/unmeasured.ts'
import { finding, type RouteCheck } from './runContext.ts'

/** Could the bender's questions be asked? Without a bender, or without its tooling, they are not checked. */
export const benderChosen: RouteCheck = ({ route, run, bender, tooling }) => {
  if (tooling || route.bends.length === 0) return []
  const die = bender && dieOf(bender, run)
  const why = !bender
    ? 'no bender is chosen'
    : die
      ? notMeasured(bender, die)
      : `${bender.name} has no tooling for this OD and CLR`
  return [
    finding(run, {
      rule: 'benderChecks',
      severity: 'notChecked',
      parts: [],
      where: { kind: 'run', index: null },
      sentence: say`not checked, because ${why}: straights against clamp and follower, stock held at both ends, angles against the stop, clearance from the bender`,
    }),
  ]
}
