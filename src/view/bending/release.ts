import { housingNotChecked, orderFindings } from '../../bender/benchFindings.ts'
import { type Decided, decide, isOpen } from '../../checks/decisions.ts'
import type { Acceptance } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { isOfBender } from '../../findings/rules.ts'
import { releaseState } from '../../outputs/releaseState.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { Clearing } from './useClearances.ts'

/** Whether a run may be bent in the order in use, by the words of the sheet's stamp. */
export interface Release {
  readonly state: 'checking' | 'released' | 'open'
  /** "NOT RELEASED". */
  readonly text: string
  /** "1 open finding, 2 checks not run". */
  readonly detail: string
  /** What keeps it from being released, worst first. */
  readonly because: readonly Decided[]
}

/**
 * @param findings of every check of the run, in whichever order of bends; those about the bender are taken anew from
 *   `clearing`, which is of the order in use.
 * @param complete false while a check of the skid is still running.
 */
export function releaseOf(
  solved: SolvedRun,
  findings: readonly Finding[],
  acceptances: readonly Acceptance[],
  clearing: Clearing,
  complete: boolean,
): Release {
  const ofBender = (f: Finding) => f.where.run === solved.runId && isOfBender(f.rule)
  const bender =
    clearing.kind === 'known'
      ? orderFindings(solved, clearing.steps)
      : clearing.kind === 'notChecked'
        ? [housingNotChecked(solved, clearing.reason)]
        : []
  const { decided } = decide([...findings.filter(f => !ofBender(f)), ...bender], acceptances)
  const because = decided.filter(d => isOpen(d) || d.finding.severity === 'notChecked')
  const { text, detail, good } = releaseState(solved, decided)
  if (clearing.kind === 'running' || !complete)
    return {
      state: 'checking',
      text: 'NOT RELEASED YET',
      detail: because.length > 0 ? `still being checked; so far ${detail}` : 'still being checked',
      because,
    }
  return { state: good ? 'released' : 'open', text, detail, because }
}
