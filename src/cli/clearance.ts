import { decide } from '../checks/decisions.ts'
import type { Finding } from '../findings/finding.ts'
import { clearanceText } from '../outputs/clearanceText.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { clearanceReport, DEFAULT_WITHIN, isOpenReport } from '../skid/clearanceCommand.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { type Call, command } from './command.ts'
import { printedDocument } from './documentFrom.ts'
import { modelsOf } from './modelsOf.ts'
import { JSON_OPTION, MODELS_OPTION, OF_A_TABLE } from './options.ts'
import { lengthOption } from './optionValue.ts'

const OPTIONS = { ...JSON_OPTION, ...MODELS_OPTION, ...OF_A_TABLE, within: { takes: 'MM' } } as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values, io } = call
  const within = values.within === undefined ? DEFAULT_WITHIN : lengthOption(values, 'within')
  const document = await printedDocument(call)
  const models = await modelsOf(document, call)
  const isAccepted = (finding: Finding) =>
    decide([finding], document.acceptances).decided[0]!.state === 'accepted'
  const measured = clearanceReport(document, solveDocument(document), within, models, isAccepted)
  io.out(values.json ? jsonText(measured) : clearanceText(measured))
  return isOpenReport(measured) ? 1 : 0
}

/** `clearance FILE`: every near pair. Exit 1 when one is nearer than required and nobody has accepted that. */
export const clearance = command({
  name: 'clearance',
  help: `  dogleg clearance FILE [--within MM] [--json]
                               every pair closer than this (default ${DEFAULT_WITHIN}) or than required, nearest first
`,
  options: OPTIONS,
  run,
})
