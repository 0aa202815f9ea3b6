import { mm, say } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { needsOf } from './needs.ts'
import { finding, type RouteCheck, straightEnds, straightName } from './runContext.ts'

/**
 * Is each straight between two bends long enough for the clamp, and for the follower? Whichever of the two bends is made
 * second has it ahead of the die, in the clamp, or behind it, under the follower: too short for both is an error, for
 * one of them a note on the order.
 */
export const straightBetweenBends: RouteCheck = context => {
  const { route, run } = context
  const findings: Finding[] = []
  needsOf(context).forEach((needs, i) => {
    const measured = route.straights[i]!
    for (const need of needs) {
      if (need.rule !== 'straightClamp' && need.rule !== 'straightFollower') continue
      if (measured >= need.need - LENGTH_SLACK_MM) continue
      const clamp = need.rule === 'straightClamp'
      const follower = needs.find(n => n.rule === 'straightFollower')
      const isNever = clamp && follower !== undefined && measured < follower.need - LENGTH_SLACK_MM
      const is =
        measured >= 0
          ? say`${straightName(route, i)}, is ${mm(measured, need.need)}`
          : say`${straightName(route, i)}, has no length: its bends overlap by ${mm(-measured)}`
      const limit = mm(need.need, measured)
      findings.push(
        finding(run, {
          rule: need.rule,
          severity: isNever ? 'error' : 'note',
          parts: straightEnds(route, i),
          where: { kind: 'straight', index: i },
          measured,
          limit: need.need,
          unit: 'mm',
          sentence: isNever
            ? say`${is}; the clamp grips ${limit}: ${mm(need.need - measured)} missing`
            : clamp
              ? say`${is}; the clamp grips ${limit}: make the bend with this straight behind it the second of the two`
              : say`${is}; the follower needs ${limit}: make these two bends consecutively from the same end; any other order needs ${mm(need.need - measured)} more`,
        }),
      )
    }
  })
  return findings
}
