import { type Decisions, decide } from '../checks/decisions.ts'
import { mergeWorstFirst, worstFirst } from '../checks/runChecks.ts'
import { say, told } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { Rule } from '../findings/rules.ts'
import { fastFindings } from './checked.ts'
import { type ClearanceState, clearanceOf } from './clearance.ts'
import { type HousingState, housingOf, housingStore } from './housing.ts'

export interface Findings {
  /** Of all checks, worst first. */
  readonly findings: readonly Finding[]
  readonly decisions: Decisions
  /** False while clearance on the skid or from the bender is still being checked, or could not be. */
  readonly complete: boolean
  /** What waits for an answer and is no finding yet: clearance on the skid, and of so many runs the bender's motions. */
  readonly pending: { readonly clearance: boolean; readonly runs: number }
}

interface Entry {
  readonly document: SkidDocument
  readonly clearance: ClearanceState
  readonly housed: HousingState
  readonly answer: Findings
}
/** Two, for the picture may be a frame ahead of the lists while a point is dragged. */
let recent: readonly Entry[] = []

/** Findings of what is shown with what was decided about each; the same object for the same document and answer. */
export function findingsOf(document: SkidDocument, clearance: ClearanceState): Findings {
  const housed = housingStore.getState()
  const known = recent.find(e => e.document === document && e.clearance === clearance && e.housed === housed)
  if (known) return known.answer
  const gaps = clearanceOf(document, clearance)
  const housing = housingOf(document)
  const failed: Finding[] = []
  const isFailed = clearance.failure !== '' && clearance.answered === document
  if (isFailed)
    failed.push(
      notRun('clearance:notChecked', 'clearanceNotChecked', 'Clearance of the whole skid', clearance.failure),
    )
  if (housed.failure && housing.pending > 0) {
    const what = `Clearance from the bender, of ${housing.pending} ${housing.pending === 1 ? 'run' : 'runs'},`
    failed.push(notRun('housing:notChecked', 'housingNotChecked', what, housed.failure))
  }
  const findings = mergeWorstFirst(
    fastFindings(document),
    worstFirst([...gaps.findings, ...housing.findings, ...failed]),
  )
  const complete = gaps.complete && housing.pending === 0
  const answer = {
    findings,
    decisions: decide(findings, document.acceptances),
    complete,
    pending: { clearance: !gaps.complete && !isFailed, runs: housed.failure ? 0 : housing.pending },
  }
  recent = [{ document, clearance, housed, answer }, ...recent.slice(0, 1)]
  return answer
}

const byRun = new WeakMap<readonly Finding[], ReadonlyMap<string, readonly Finding[]>>()

/** The findings that a run takes part in, by its id, in their order; both runs of a pair have the pair's. */
export function findingsByRun(findings: readonly Finding[]): ReadonlyMap<string, readonly Finding[]> {
  const known = byRun.get(findings)
  if (known) return known
  const map = new Map<string, Finding[]>()
  const put = (id: string | null | undefined, finding: Finding) => {
    if (id === null || id === undefined) return
    const have = map.get(id)
    if (have) have.push(finding)
    else map.set(id, [finding])
  }
  for (const finding of findings) {
    const { run, other } = finding.where
    put(run, finding)
    if (other !== run) put(other, finding)
  }
  byRun.set(findings, map)
  return map
}

const notRun = (id: string, rule: Rule, what: string, reason: string): Finding => ({
  id,
  rule,
  severity: 'notChecked',
  where: { run: null, kind: 'run', index: null },
  measured: null,
  limit: null,
  unit: '',
  ...told(say`${what} is not checked: ${reason}`),
})
