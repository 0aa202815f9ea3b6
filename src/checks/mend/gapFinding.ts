import type { Finding } from '../../findings/finding.ts'
import { isOfGap } from '../../findings/rules.ts'

/** Whether a finding is a gap too small, so that there is a mend to look for. */
export const isGapFinding = ({ where, rule, measured }: Finding): boolean =>
  where.kind === 'pair' && where.run !== null && measured !== null && isOfGap(rule)

/** Farthest that a mend moves anything, mm. */
export const MEND_REACH = 200
