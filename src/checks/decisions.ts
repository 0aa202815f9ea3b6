import { everyDigit, inMm, type Length, type Sentence, say } from '../document/sentence.ts'
import type { Acceptance } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'

/** A figure must get worse by more than this before an accepted finding opens again; mm or degrees. */
export const WORSE_BY = 0.1

const ROUNDING = 1e-9

export type DecisionState = 'open' | 'accepted' | 'reopened'

export interface Decided {
  readonly finding: Finding
  readonly state: DecisionState
  /** The acceptance in force, or the one that no longer holds when `state` is 'reopened'. */
  readonly acceptance: Acceptance | null
  /** Why an acceptance no longer holds, in mm; '' otherwise. {@link reopenedBecause} says it in any unit. */
  readonly why: string
}

export interface Decisions {
  readonly decided: readonly Decided[]
  /** Acceptances whose finding is gone: listed, never dropped. */
  readonly stale: readonly Acceptance[]
}

/**
 * Joins findings with what was decided about them. A finding known by the same id stays accepted until its figure
 * is worse than the accepted one by more than 0.1, or its limit has moved against it. Nothing accepts a check that
 * was not run, nor a mere note: both stay as they are.
 */
export function decide(findings: readonly Finding[], acceptances: readonly Acceptance[]): Decisions {
  const byFinding = new Map(acceptances.map(a => [a.finding, a]))
  const seen = new Set<string>()
  const decided = findings.map((finding): Decided => {
    seen.add(finding.id)
    const acceptance = byFinding.get(finding.id) ?? null
    if (!acceptance) return undecided(finding)
    const why = inMm(worsened(finding, acceptance))
    return { finding, state: why ? 'reopened' : 'accepted', acceptance, why }
  })
  return { decided, stale: acceptances.filter(a => !seen.has(a.finding)) }
}

/** Of thousands of findings most stay as they are from edit to edit: what shows one need not be drawn anew. */
const known = new WeakMap<Finding, Decided>()
function undecided(finding: Finding): Decided {
  let decided = known.get(finding)
  if (!decided) {
    decided = { finding, state: 'open', acceptance: null, why: '' }
    known.set(finding, decided)
  }
  return decided
}

/** True when the finding wants a decision: an error or a warning that nobody has accepted as it stands. */
export const isOpen = ({ finding, state }: Decided): boolean =>
  state !== 'accepted' && (finding.severity === 'error' || finding.severity === 'warning')

/** Why the acceptance of a finding no longer holds; nothing when it holds, or when there is none. */
export const reopenedBecause = ({ finding, acceptance }: Decided): Sentence =>
  acceptance ? worsened(finding, acceptance) : say``

function worsened(finding: Finding, { measured, limit }: Acceptance): Sentence {
  if (finding.severity === 'notChecked') return say`the check was not run`
  if (measured === null || finding.measured === null) {
    return measured === finding.measured ? say`` : say`it can no longer be compared with the accepted figure`
  }
  const reference = finding.limit ?? limit
  // Too little (a straight, a gap) gets worse downwards, too much (an angle past the stop) upwards.
  const sense = reference !== null && measured > reference ? 1 : -1
  const by = (finding.measured - measured) * sense
  const written = (length: Length, text: string) =>
    finding.unit === 'mm' ? length : finding.unit === 'deg' ? `${text}°` : `${text} `
  if (by > WORSE_BY + ROUNDING)
    return say`it got worse by ${written({ mm: by, fixed: true }, by.toFixed(2))} since it was accepted`
  if (limit !== null && finding.limit !== null && (limit - finding.limit) * sense > ROUNDING) {
    const [was, is] = [limit, finding.limit]
    return say`its limit changed from ${written({ ...everyDigit(was), beside: [is] }, `${was}`)} to ${written({ ...everyDigit(is), beside: [was] }, `${is}`)}`
  }
  return say``
}
