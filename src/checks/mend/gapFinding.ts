import type { Finding } from '../finding.ts'

const GAP_RULES: ReadonlySet<string> = new Set(['clash', 'selfClash', 'tooClose'])

/** Whether a finding is a gap too small, so that there is a mend to look for. */
export const isGapFinding = ({ where, rule, measured }: Finding): boolean =>
  where.kind === 'pair' && where.run !== null && measured !== null && GAP_RULES.has(rule)

/** Farthest that a mend moves anything, mm. */
export const MEND_REACH = 200
