import type { SkidDocument } from '../document/types.ts'
import type { Severity } from '../findings/finding.ts'
import type { Rule } from '../findings/rules.ts'
import { solveRun } from '../solve/solveRun.ts'
import { checksOfRun } from './runChecks.ts'

/** How often a rule's findings come and go by a change of the document. */
export interface RuleOutcome {
  readonly rule: Rule
  /** The worst that the rule says, before or after. */
  readonly severity: Severity
  readonly before: number
  readonly after: number
}
export interface ChangeOutcome {
  /** Runs that are other objects after it. */
  readonly changed: number
  /** Rules whose number of findings changes, the worst and the most added first. Fast checks only: no clearance, no bench. */
  readonly rules: readonly RuleOutcome[]
}

const RANK: readonly Severity[] = ['error', 'warning', 'notChecked', 'note']

/** What the fast checks say of the runs that a change touches, before and after it. Both must have the same run ids. */
export function changeOutcome(before: SkidDocument, after: SkidDocument): ChangeOutcome {
  const now = new Map(after.runs.map(run => [run.id, run]))
  const rules = new Map<Rule, { severity: Severity; before: number; after: number }>()
  const tally = (document: SkidDocument, run: SkidDocument['runs'][number], when: 'before' | 'after') => {
    for (const { rule, severity } of checksOfRun(document, run, solveRun(document, run))) {
      const known = rules.get(rule) ?? { severity, before: 0, after: 0 }
      known[when]++
      if (RANK.indexOf(severity) < RANK.indexOf(known.severity)) known.severity = severity
      rules.set(rule, known)
    }
  }
  let changed = 0
  for (const run of before.runs) {
    const other = now.get(run.id)
    if (!other || other === run) continue
    changed++
    tally(before, run, 'before')
    tally(after, other, 'after')
  }
  const moved = [...rules].flatMap(([rule, r]) => (r.before === r.after ? [] : [{ rule, ...r }]))
  moved.sort(
    (a, b) =>
      RANK.indexOf(a.severity) - RANK.indexOf(b.severity) ||
      b.after - b.before - (a.after - a.before) ||
      (a.rule < b.rule ? -1 : 1),
  )
  return { changed, rules: moved }
}
