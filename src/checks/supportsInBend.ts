import { mm, say } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { finding, type RouteCheck } from './runContext.ts'
import { supportsOf } from './supportsOnTube.ts'

/**
 * Does a support sit on a bend? A clamp or saddle is made for straight tube: it wants to stand past the tangent point.
 * A warning; measured is how far inside the bend it sits, from the nearer tangent point along the tube, and the limit
 * is 0. A support further off the tube than its OD is left to the check of that.
 */
export const supportsInBend: RouteCheck = context => {
  const findings: Finding[] = []
  for (const { support, piece, along, distance } of supportsOf(context)) {
    if (piece.kind !== 'arc' || distance > context.run.tube.od) continue
    const inside = Math.min(along - piece.from, piece.to - along)
    if (inside <= LENGTH_SLACK_MM) continue
    findings.push(
      finding(context.run, {
        rule: 'supportInBend',
        severity: 'warning',
        parts: [support.id],
        where: { kind: 'support', index: null, other: support.id },
        measured: inside,
        limit: 0,
        unit: 'mm',
        sentence: say`${support.name} sits in bend ${String(piece.bend + 1)}, ${mm(inside)} past its tangent point; it needs straight tube`,
      }),
    )
  }
  return findings
}
