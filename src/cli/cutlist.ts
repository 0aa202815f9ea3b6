import { allFindings } from '../checks/allFindings.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleNames } from '../document/visibleNames.ts'
import { type CutOptions, cutList } from '../outputs/cutList.ts'
import { cutListCommand, cutListSheetCommand } from '../outputs/outputsCommand.ts'
import { remnantFromText, stockFromText, tubeKinds } from '../outputs/stockWords.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { BadInput } from './badInput.ts'
import { type Call, command, type Values } from './command.ts'
import { documentFrom } from './documentFrom.ts'
import { now } from './jobOf.ts'
import { modelsOf } from './modelsOf.ts'
import { JSON_OPTION, MODELS_OPTION, OF_A_TABLE, OUT_OPTION, PAPER_OPTION } from './options.ts'
import { lengthOrNothing, outOption, paperOption } from './optionValue.ts'

const OPTIONS = {
  ...JSON_OPTION,
  ...MODELS_OPTION,
  ...OF_A_TABLE,
  stock: { takes: 'LEN[*COUNT]', many: true },
  remnant: { takes: 'LEN*COUNT', many: true },
  kerf: { takes: 'MM' },
  trim: { takes: 'MM' },
  'least-remnant': { takes: 'MM' },
  ...OUT_OPTION,
  ...PAPER_OPTION,
} as const

async function run({ file, values, io }: Call<typeof OPTIONS>): Promise<number> {
  const out = values.out === undefined ? null : outOption(values)
  if (out !== null && !/\.(pdf|csv)$/i.test(out))
    throw new BadInput(`--out: found "${out}"; wanted a name that ends in .pdf or .csv`)
  const paper = paperOption(values)
  const document = await documentFrom(file, values, io)
  const shown = values.json || out !== null ? document : visibleNames(document)
  const solved = solveDocument(shown)
  const options = cutOptions(values, shown)
  const { leftOut } = cutList(shown, solved, options)
  for (const { tag, reason } of leftOut) io.warn(`${tag} is not in the cut list: ${reason}`)
  const findings = allFindings(shown, solved, await modelsOf(shown, { file, values, io }))
  const as = (format: 'text' | 'json' | 'csv') =>
    cutListCommand(shown, solved, { ...options, format, findings })
  if (out === null) io.out(as(values.json ? 'json' : 'text'))
  else if (/\.csv$/i.test(out)) await io.write(out, as('csv'))
  else
    await io.write(
      out,
      await cutListSheetCommand(shown, solved, { ...options, paper, findings, date: now() }),
    )
  return leftOut.length > 0 ? 1 : 0
}

function cutOptions(values: Values<typeof OPTIONS>, document: SkidDocument): CutOptions {
  const kinds = tubeKinds(document.runs.map(r => r.tube))
  const stock = (values.stock ?? []).map(t => stockFromText(t, '--stock', 'mm'))
  const kerf = lengthOrNothing(values, 'kerf')
  const endTrim = lengthOrNothing(values, 'trim')
  const leastRemnant = lengthOrNothing(values, 'least-remnant')
  return {
    ...(stock.length > 0 ? { stock } : {}),
    remnants: (values.remnant ?? []).map(t => remnantFromText(t, '--remnant', 'mm', kinds)),
    ...(kerf === undefined ? {} : { kerf }),
    ...(endTrim === undefined ? {} : { endTrim }),
    ...(leastRemnant === undefined ? {} : { leastRemnant }),
  }
}

/**
 * `cutlist FILE`: all runs nested on stock, as text or JSON, or with `--out` as F.pdf or F.csv. Exit 1 when a run could
 * not be put in it.
 */
export const cutlist = command({
  name: 'cutlist',
  help: `  dogleg cutlist FILE [--stock LEN[*COUNT]]… [--remnant LEN*COUNT]… [--kerf MM] [--trim MM]
                 [--least-remnant MM] [--json | --out F.pdf|F.csv [--paper A4|A3|Letter]]
                               all runs nested on stock (6000 by default; 20ft*3: three of them) and what to order;
                               --remnant "1200*2 of 12x1.5" if the runs use several tube sizes
`,
  options: OPTIONS,
  run,
})
