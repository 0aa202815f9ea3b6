import { useEffect, useState } from 'react'
import { benchFindings, holdFindings } from '../../bench/benchFindings.ts'
import type { JudgedRun } from '../../bench/judgeRun.ts'
import { type Lead, orderFrom } from '../../bench/layOut.ts'
import { benderOf, runOf, toolingOf } from '../../document/lookUp.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { startBenchJob } from '../bending/benchJobs.ts'

interface Judged {
  readonly of: SolvedRun
  readonly lead: Lead
  readonly run: JudgedRun
}

/**
 * The run made with one end leading, as a worker judges it for a sheet that goes by that order; null without a run or
 * a lead, for a run that nothing is laid out for, and until the answer is there.
 */
export function useJudged(
  document: SkidDocument,
  solved: SolvedRun | null,
  lead: Lead | null,
): JudgedRun | null {
  const [judged, setJudged] = useState<Judged | null>(null)
  useEffect(() => {
    const run = solved?.route && runOf(document, solved.runId)
    const bender = run ? benderOf(document, run) : null
    const tooling = run && bender && toolingOf(bender, run)
    if (!solved?.route || !run || !bender || !tooling || lead === null) return
    // What cannot exist cannot be swung either: the checks say so.
    if (solved.route.straights.some(s => s < 0)) return
    const order = orderFrom(lead, solved.route.bends.length)
    const springback = bender.springback.find(s => s.material === run.tube.material) ?? null
    const job = startBenchJob({ kind: 'clearances', work: { solved, bender, tooling, springback }, order })
    void job.answer.then(answer => {
      if (answer.kind !== 'clearances') return
      const { steps } = answer
      const findings = [...holdFindings(solved, steps), ...benchFindings(solved, steps)]
      setJudged({ of: solved, lead, run: { order, findings } })
    })
    return job.cancel
  }, [document, solved, lead])
  return judged && judged.of === solved && judged.lead === lead ? judged.run : null
}
