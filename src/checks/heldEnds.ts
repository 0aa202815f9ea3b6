import { mm, say } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * Can the stock be held at the first and at the last bend? Bent A-first, its front must reach past the clamp's far
 * edge and its tail past the follower, insertion and trim counted in. When the same tube can be held bent B-first,
 * the finding is a note that says so.
 */
export const heldEnds: RouteCheck = ({ route, run, solved, tooling }) => {
  const last = route.straights.length - 1
  if (!tooling || last === 0) return []
  const stockA = route.straights[0]! + solved.insertionA
  const stockB = route.straights[last]! + solved.insertionB + run.trimAllowance
  const holds = (front: number, tail: number) =>
    front >= tooling.clampGrip - LENGTH_SLACK_MM && tail >= tooling.followerLength - LENGTH_SLACK_MM
  if (holds(stockA, stockB)) return []
  const otherWay = holds(stockB, stockA)
  const held = (front: boolean): Finding => {
    const measured = front ? stockA : stockB
    const limit = front ? tooling.clampGrip : tooling.followerLength
    const counted = front ? 'insertion included' : 'insertion and trim included'
    const tool = front ? "to reach past the clamp's far edge" : 'for the follower to hold'
    const side = front ? 'ahead of bend 1 (end A leads)' : `behind bend ${last} (end A leads)`
    const is =
      measured >= 0
        ? say`the stock ${side} is ${mm(measured, limit)}`
        : say`there is no stock ${side}: the bend reaches ${mm(-measured)} past the end`
    return finding(run, {
      rule: front ? 'frontHeld' : 'tailHeld',
      severity: otherWay ? 'note' : 'error',
      parts: [front ? 'A' : 'B'],
      where: { kind: front ? 'endA' : 'endB', index: null },
      measured,
      limit,
      unit: 'mm',
      sentence: say`${is}, ${counted}; ${mm(limit, measured)} are needed ${tool}: ${mm(limit - measured)} missing${otherWay ? '. With end B leading it is held at both ends' : ''}`,
    })
  }
  const findings: Finding[] = []
  if (stockA < tooling.clampGrip - LENGTH_SLACK_MM) findings.push(held(true))
  if (stockB < tooling.followerLength - LENGTH_SLACK_MM) findings.push(held(false))
  return findings
}
