import { type EndHeld, endsHeld, isLong, isNeverHeld } from '../bender/endsHeld.ts'
import { stockOf } from '../bender/layOut.ts'
import { mm, say } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import { finding, type RouteCheck } from './runContext.ts'

/**
 * Can the stock be held at the first and at the last bend? Bent A-first, its front must reach past the clamp's far
 * edge and its tail past the follower, insertion and trim counted in. An end that is held when the other end leads, or
 * with the trim, is a note that says so: whether one order does all of it is the bender's check to find.
 */
export const heldEnds: RouteCheck = ({ route, run, solved, tooling }) => {
  const last = route.straights.length - 1
  if (!tooling || last === 0) return []
  const [a, b] = endsHeld({ stock: stockOf(solved), tooling })
  // One bend has both ends at once.
  const both = last > 1 ? null : isLong(b.bare, b.clamp) && isLong(a.trimmed, a.follower) ? bLeads(1) : NEVER
  const held = (isFront: boolean, measured: number, limit: number): Finding => {
    const other = both ?? (isFront ? endAOtherwise(a) : endBOtherwise(b, last))
    const counted = isFront ? 'insertion included' : 'insertion and trim included'
    const tool = isFront ? "to reach past the clamp's far edge" : 'for the follower to hold'
    const side = isFront ? 'ahead of bend 1 (end A leads)' : `behind bend ${last} (end A leads)`
    const is =
      measured >= 0
        ? say`the stock ${side} is ${mm(measured, limit)}`
        : say`there is no stock ${side}: the bend reaches ${mm(-measured)} past the end`
    return finding(run, {
      rule: isFront ? 'frontHeld' : 'tailHeld',
      severity: other === NEVER ? 'error' : 'note',
      parts: [isFront ? 'A' : 'B'],
      where: { kind: isFront ? 'endA' : 'endB', index: null },
      measured,
      limit,
      unit: 'mm',
      sentence: say`${is}, ${counted}; ${mm(limit, measured)} are needed ${tool}: ${mm(limit - measured)} missing${other}`,
    })
  }
  const findings: Finding[] = []
  if (!isLong(a.bare, a.clamp)) findings.push(held(true, a.bare, a.clamp))
  if (!isLong(b.trimmed, b.follower)) findings.push(held(false, b.trimmed, b.follower))
  return findings
}

const NEVER = ''
const bLeads = (bend: number): string => `. With end B leading at bend ${bend} it is held`

/** How end A is held otherwise than by the clamp, without trim: a sentence more, or none where nothing holds it. */
function endAOtherwise(a: EndHeld): string {
  if (isNeverHeld(a)) return NEVER
  if (isLong(a.bare, a.follower)) return bLeads(1)
  return isLong(a.trimmed, a.follower)
    ? `${bLeads(1)}, the trim at end A`
    : '. With the trim at end A the clamp holds it'
}

/** How end B is held otherwise than by the follower. */
function endBOtherwise(b: EndHeld, last: number): string {
  if (isNeverHeld(b)) return NEVER
  return isLong(b.bare, b.clamp) ? bLeads(last) : `${bLeads(last)}, the trim at end B`
}
