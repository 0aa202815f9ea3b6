import { allFindings } from '../checks/allFindings.ts'
import { EXPORTS, type ExportKind, exportCommand } from '../outputs/outputsCommand.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { jobOf, runOption } from './jobOf.ts'
import { modelsOf } from './modelsOf.ts'
import { MODELS_OPTION, OF_A_TABLE, OUT_OPTION, RUN_OPTION } from './options.ts'
import { outOption } from './optionValue.ts'

const OPTIONS = {
  ...OF_A_TABLE,
  ...MODELS_OPTION,
  ...RUN_OPTION,
  to: { takes: EXPORTS.join('|') },
  ...OUT_OPTION,
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { to } = call.values
  const kind = EXPORTS.find((e): e is ExportKind => e === to)
  if (!kind)
    throw new BadInput(
      `--to: found ${to === undefined ? 'nothing' : `"${to}"`}; wanted one of ${EXPORTS.join(', ')}`,
    )
  const out = outOption(call.values)
  const { document, solved, date } = await jobOf(call)
  const findings =
    kind === 'json' ? { findings: allFindings(document, solved, await modelsOf(document, call)) } : {}
  await call.io.write(
    out,
    exportCommand(document, solved, { to: kind, date, ...runOption(call.values), ...findings }),
  )
  return 0
}

/** `export FILE --to FORMAT --out F`. */
export const exportFile = command({
  name: 'export',
  help: `  dogleg export FILE [--run TAG] --to step|glb|stl|dxf|svg|csv|rows|json --out F
                               csv: one run's points, rows: its bend rows; svg: the drawing of each run, one under
                               another
`,
  options: OPTIONS,
  run,
})
