import type { Finding, Severity } from '../../findings/finding.ts'

export const SEVERITIES: readonly Severity[] = ['error', 'warning', 'notChecked', 'note']

export const SEVERITY_WORD: Record<Severity, readonly [one: string, many: string]> = {
  error: ['error', 'errors'],
  warning: ['warning', 'warnings'],
  notChecked: ['not checked', 'not checked'],
  note: ['note', 'notes'],
}

/** The worst severity among the findings, or null when there is none. */
export const worstOf = (findings: readonly Finding[]): Severity | null =>
  SEVERITIES.find(s => findings.some(f => f.severity === s)) ?? null

/** How many of each, in words, worst first: "2 errors, 1 note". */
export const countsInWords = (findings: readonly Finding[]): string =>
  SEVERITIES.flatMap(s => {
    const n = findings.filter(f => f.severity === s).length
    return n === 0 ? [] : [`${n} ${SEVERITY_WORD[s][n === 1 ? 0 : 1]}`]
  }).join(', ')
