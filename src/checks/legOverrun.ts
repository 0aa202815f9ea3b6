import { mm, say } from '../document/sentence.ts'
import { finding, LENGTH_SLACK_MM, type RouteCheck, straightEnds, straightName } from './runContext.ts'

/** Is any leg shorter than the tangents of its bends? Then the straight is negative and the tube cannot be made. */
export const legOverrun: RouteCheck = ({ route, run }) =>
  route.straights.flatMap((straight, i) =>
    straight >= -LENGTH_SLACK_MM
      ? []
      : [
          finding(run, {
            rule: 'legOverrun',
            severity: 'error',
            parts: straightEnds(route, i),
            where: { kind: 'straight', index: i },
            measured: straight,
            limit: 0,
            unit: 'mm',
            sentence: say`${straightName(route, i)}, is ${mm(-straight)} too short for the bends at its ends`,
          }),
        ],
  )
