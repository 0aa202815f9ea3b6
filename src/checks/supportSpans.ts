import { mm, say } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { finding, type RouteCheck } from './runContext.ts'
import { supportsOf } from './supportsOnTube.ts'

/**
 * Is any stretch of tube between supports, or from a support to an end, longer along the tube than the document asks?
 * The limit is the document's own figure, of its governing code or practice; null asks nothing, and nothing is found
 * then. A support that is off the tube holds nothing and ends no stretch.
 */
export const supportSpans: RouteCheck = context => {
  const { document, run, route } = context
  const limit = document.supportSpan
  if (limit === null) return []
  const holds = [
    { id: 'A', name: 'end A', along: 0 },
    ...supportsOf(context)
      .filter(s => s.holds)
      .map(s => ({ id: s.support.id, name: s.support.name, along: s.along })),
    { id: 'B', name: 'end B', along: route.developedLength },
  ]
  const findings: Finding[] = []
  for (let i = 1; i < holds.length; i++) {
    const [from, to] = [holds[i - 1]!, holds[i]!]
    const measured = to.along - from.along
    if (measured <= limit + LENGTH_SLACK_MM) continue
    findings.push(
      finding(run, {
        rule: 'supportSpan',
        severity: 'warning',
        parts: [from.id, to.id],
        where: { kind: 'run', index: null },
        measured,
        limit,
        unit: 'mm',
        sentence: say`from ${from.name} to ${to.name} ${mm(measured, limit)} of tube has no support; at most ${mm(limit, measured)} is allowed`,
      }),
    )
  }
  return findings
}
