import { type BenchOptions, benchReport, knownBenders } from '../bench/benchCommand.ts'
import { decide, isOpen } from '../checks/decisions.ts'
import { KNOWN_BENDERS } from '../document/knownBenders.ts'
import { visibleText } from '../document/visibleText.ts'
import { benchText } from '../outputs/benchText.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { printedDocument } from './documentFrom.ts'
import { JSON_OPTION, LEAD_OPTION, OF_A_TABLE, RUN_OPTION } from './options.ts'
import { leadOption } from './optionValue.ts'

const OPTIONS = { ...JSON_OPTION, ...OF_A_TABLE, ...RUN_OPTION, ...LEAD_OPTION } as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values, io } = call
  const document = await printedDocument(call, { benderOfDocument: true })
  const options: BenchOptions = {
    benders: KNOWN_BENDERS.map(k => k.bender),
    lead: leadOption(values) ?? 'A',
    ...(values.run === undefined ? {} : { run: values.json ? values.run : visibleText(values.run) }),
    ...(values.bender === undefined ? {} : { bender: values.bender }),
  }
  const known = knownBenders(document, options).map(b => b.id)
  if (values.bender !== undefined && !known.includes(values.bender))
    throw new BadInput(`--bender: found "${values.bender}"; wanted one of ${known.join(', ')}`)
  const made = benchReport(document, solveDocument(document), options)
  for (const run of made.runs) if ('problem' in run) io.warn(`${run.tag}: ${run.problem}`)
  io.out(values.json ? jsonText(made) : benchText(made))
  const stopped = made.runs.some(
    run =>
      'problem' in run ||
      run.blocked !== null ||
      run.steps.some(s => s.hold !== null) ||
      decide(run.findings, document.acceptances).decided.some(isOpen),
  )
  return stopped ? 1 : 0
}

/** `bench FILE`: every step on the bender. Exit 1 when a run cannot be made so. */
export const bench = command({
  name: 'bench',
  help: `  dogleg bench FILE [--run TAG] [--lead A|B|best] [--bender ID] [--json]
                               marks, turns, dial readings and clearance of every step on the bender
`,
  options: OPTIONS,
  run,
})
