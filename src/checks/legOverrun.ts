import { mm, say } from '../document/sentence.ts'
import { overruns } from '../solve/overruns.ts'
import { finding, type RouteCheck, straightEnds, straightName } from './runContext.ts'

/** Is any leg shorter than the tangents of its bends? Then the straight is negative and the tube cannot be made. */
export const legOverrun: RouteCheck = ({ route, run }) =>
  overruns(route).map(({ straight, by }) =>
    finding(run, {
      rule: 'legOverrun',
      severity: 'error',
      parts: straightEnds(route, straight),
      where: { kind: 'straight', index: straight },
      measured: 0 - by,
      limit: 0,
      unit: 'mm',
      sentence: say`${straightName(route, straight)}, is ${mm(by)} too short for the bends at its ends`,
    }),
  )
