import { allFindings } from '../checks/allFindings.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { findingsText, solveReport, solveText } from '../outputs/solveReport.ts'
import { solveDocument } from '../solve/solveRun.ts'
import type { Call } from './command.ts'
import { printedDocument } from './documentFrom.ts'
import { modelsOf } from './modelsOf.ts'
import { JSON_OPTION, MODELS_OPTION, OF_A_TABLE } from './options.ts'

export const REPORT_OPTIONS = { ...JSON_OPTION, ...MODELS_OPTION, ...OF_A_TABLE } as const

/** Prints the findings, before them the programme of every run when asked for. Exit 1 when findings are open. */
export async function report(call: Call<typeof REPORT_OPTIONS>, programme: boolean): Promise<number> {
  const { values, io } = call
  const document = await printedDocument(call)
  const solved = solveDocument(document)
  const findings = allFindings(document, solved, await modelsOf(document, call))
  const summary = solveReport(document, solved, findings)
  for (const run of solved) if (run.problem) io.warn(`${run.tag}: ${run.problem.message}`)
  if (values.json) io.out(jsonText(summary))
  else io.out((programme ? `${solveText(document, solved)}\n` : '') + findingsText(document, findings))
  return summary.open > 0 ? 1 : 0
}
