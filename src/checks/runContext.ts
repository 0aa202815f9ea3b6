import { benderOf, fittingOf, runOf, toolingOf } from '../document/lookUp.ts'
import { type Sentence, told } from '../document/sentence.ts'
import type { Bender, Fitting, Run, SkidDocument, Tooling } from '../document/types.ts'
import type { Finding, Severity, Where } from '../findings/finding.ts'
import type { Rule } from '../findings/rules.ts'
import type { SolvedRoute, SolvedRun } from '../solve/types.ts'

/** All that a check of one run looks at, looked up once. */
export interface RunContext {
  readonly document: SkidDocument
  readonly run: Run
  readonly solved: SolvedRun
  readonly bender: Bender | null
  /** The bender's tooling for this OD and CLR; null when there is none or no bender. */
  readonly tooling: Tooling | null
  readonly fittingA: Fitting | null
  readonly fittingB: Fitting | null
}
/** The same for a run that could be solved. */
export interface RouteContext extends RunContext {
  readonly route: SolvedRoute
}

/** One question about a run. A check of the route is not asked when there is none: that is a finding by itself. */
export type RunCheck = (context: RunContext) => Finding[]
export type RouteCheck = (context: RouteContext) => Finding[]

/** @throws RangeError when the solved run is of another document. */
export function runContext(
  document: SkidDocument,
  solved: SolvedRun,
  run: Run | null = runOf(document, solved.runId),
): RunContext {
  if (run?.id !== solved.runId)
    throw new RangeError(`checks: found the solved run "${solved.runId}", wanted one of the document`)
  const bender = benderOf(document, run)
  return {
    document,
    run,
    solved,
    bender,
    tooling: bender && toolingOf(bender, run),
    fittingA: fittingOf(document, run.endA),
    fittingB: fittingOf(document, run.endB),
  }
}

interface Said {
  readonly rule: Rule
  readonly severity: Severity
  /** Ids of the parts it concerns besides the run; none of them an index. */
  readonly parts: readonly string[]
  readonly where: Omit<Where, 'run'>
  readonly measured?: number
  readonly limit?: number
  readonly unit?: 'mm' | 'deg'
  readonly sentence: Sentence
}

/** A finding about the run; its identity is rule, run and parts. */
export function finding(run: Run, said: Said): Finding {
  return {
    id: [said.rule, run.id, ...said.parts].join(':'),
    rule: said.rule,
    severity: said.severity,
    where: { run: run.id, ...said.where },
    measured: said.measured ?? null,
    limit: said.limit ?? null,
    unit: said.unit ?? '',
    ...told(said.sentence),
  }
}

/** Ids of the two points that bound a straight: 'A', vertex ids, 'B'. */
export function straightEnds(route: SolvedRoute, straight: number): [string, string] {
  return [route.bends[straight - 1]?.vertexId ?? 'A', route.bends[straight]?.vertexId ?? 'B']
}

/** `straight 2, between bends 1 and 2` or `straight 1, from end A to bend 1`. */
export function straightName(route: SolvedRoute, straight: number): string {
  const last = route.straights.length - 1
  if (last === 0) return 'straight 1, from end A to end B'
  if (straight === 0) return 'straight 1, from end A to bend 1'
  if (straight === last) return `straight ${last + 1}, from bend ${last} to end B`
  return `straight ${straight + 1}, between bends ${straight} and ${straight + 1}`
}
