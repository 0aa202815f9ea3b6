import { type Decided, decide, isOpen } from '../checks/decisions.ts'
import { inMm } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { overruns } from '../solve/overruns.ts'
import type { SolvedRun } from '../solve/types.ts'

/** Who lets a sheet go out although findings are open, and why. */
export interface Override {
  readonly by: string
  readonly reason: string
}

export interface ReleaseState {
  readonly text: string
  readonly detail: string
  /** Nothing open, and every check was run. */
  readonly good: boolean
  /** Findings are open that nobody lets pass, or it cannot be made: what a command says with exit code 1. */
  readonly held: boolean
}

/** A run's findings with what was decided about them; null when the checks were not run. */
export const decidedOf = (
  document: SkidDocument,
  runId: string,
  findings: readonly Finding[] | null,
): Decided[] | null =>
  findings &&
  decide(
    findings.filter(f => f.where.run === runId || f.where.other === runId),
    document.acceptances,
  ).decided.slice()

const plural = (n: number, one: string) => `${n} ${one}${n === 1 ? '' : 's'}`

/**
 * What stands in the stamp of everything that is made of a run, worst first. A check that was not run keeps it from
 * reading as released, and nobody can release what cannot be made.
 */
export function releaseState(
  solved: Pick<SolvedRun, 'route' | 'problem'>,
  decided: readonly Decided[] | null,
  override?: Override | null,
): ReleaseState {
  const not = { good: false, held: true }
  // Only lists in mm have runs without a route: no sheet, strip or bench does.
  if (solved.route === null)
    return {
      text: 'CANNOT BE MADE',
      detail: solved.problem ? inMm(solved.problem.sentence) : 'it has no route',
      ...not,
    }
  const over = overruns(solved.route)
  if (over.length > 0) {
    const which = over.map(o => o.straight + 1).join(', ')
    const detail = `NOT RELEASED: straight${over.length === 1 ? '' : 's'} ${which} too short for its bends`
    return { text: 'CANNOT BE MADE', detail, ...not }
  }
  if (decided === null) return { text: 'NOT RELEASED', detail: 'the checks were not run', ...not }
  const open = decided.filter(isOpen).length
  const notChecked = decided.filter(d => d.finding.severity === 'notChecked').length
  const unchecked = notChecked > 0 ? `${plural(notChecked, 'check')} not run` : ''
  const findings = plural(open, 'open finding')
  const together = (...parts: string[]) => parts.filter(Boolean).join(', ')
  if (open > 0 && override)
    return {
      text: 'RELEASED BY OVERRIDE',
      detail: together(findings, unchecked, `${override.by}: ${override.reason}`),
      good: false,
      held: false,
    }
  if (open > 0) return { text: 'NOT RELEASED', detail: together(findings, unchecked), ...not }
  if (notChecked > 0) return { text: 'NOT FULLY CHECKED', detail: unchecked, good: false, held: false }
  return { text: 'NO OPEN FINDINGS', detail: 'in the checks that were run', good: true, held: false }
}

/** The state in one line, as plain text has it. */
export const stateLine = ({ text, detail }: Pick<ReleaseState, 'text' | 'detail'>): string =>
  `${text}: ${detail}`

/** A run's state as a list of several runs names it. */
export interface RunState extends ReleaseState {
  readonly runId: string
  readonly tag: string
}

/** The states of runs that nobody has released by name, in their order. */
export const runStates = (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  findings: readonly Finding[] | null,
): RunState[] =>
  solved.map(s => ({
    runId: s.runId,
    tag: s.tag,
    ...releaseState(s, decidedOf(document, s.runId, findings)),
  }))
