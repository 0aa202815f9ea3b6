import type { SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import { straightToLengthen } from './knownFix.ts'

/**
 * Ids of the findings that show their fix: of all errors of one straight, whose fix is the same, the first one only.
 *
 * @param findings in the order of the list.
 */
export function ownFixes(document: SkidDocument, findings: readonly Finding[]): ReadonlySet<string> {
  const fixed = new Set<string>()
  return new Set(
    findings.flatMap(finding => {
      const straight = finding.severity === 'error' ? straightToLengthen(document, finding) : null
      if (straight === null) return [finding.id]
      const place = `${finding.where.run} ${straight}`
      if (fixed.has(place)) return []
      fixed.add(place)
      return [finding.id]
    }),
  )
}
