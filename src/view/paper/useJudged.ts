import { useEffect, useState } from 'react'
import { orderFindings } from '../../bender/benchFindings.ts'
import type { CheckedBendOrder } from '../../bender/checkBendOrder.ts'
import { orderFrom } from '../../bender/layOut.ts'
import type { SkidDocument } from '../../document/types.ts'
import { benchRun } from '../../outputs/benchLayout.ts'
import type { Lead } from '../../solve/bendOrder.ts'
import { overruns } from '../../solve/overruns.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { startBenchJob } from '../bending/benchJobs.ts'

interface Judged {
  readonly of: SolvedRun
  readonly lead: Lead
  readonly run: CheckedBendOrder
}

/**
 * The run made with one end leading, as a worker judges it for a sheet that goes by that order; null without a run or
 * a lead, for a run that nothing is laid out for, and until the answer is there.
 */
export function useJudged(
  document: SkidDocument,
  solved: SolvedRun | null,
  lead: Lead | null,
): CheckedBendOrder | null {
  const [judged, setJudged] = useState<Judged | null>(null)
  useEffect(() => {
    // What cannot exist cannot be swung either: the checks say so.
    if (!solved?.route || lead === null || overruns(solved.route).length > 0) return
    const { bender, tooling, springback } = benchRun(document, solved)
    if (!bender || !tooling) return
    const order = orderFrom(lead, solved.route.bends.length)
    return startBenchJob(
      { kind: 'clearances', work: { solved, bender, tooling, springback }, order, ways: 'clearer' },
      {
        answer: ({ steps }) =>
          setJudged({
            of: solved,
            lead,
            run: { order: steps.map(s => s.step), findings: orderFindings(solved, steps) },
          }),
        // Without a judgement the sheet says "not checked".
        notChecked: () => {},
      },
    )
  }, [document, solved, lead])
  return judged && judged.of === solved && judged.lead === lead ? judged.run : null
}
