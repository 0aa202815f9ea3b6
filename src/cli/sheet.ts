import { allFindings } from '../checks/allFindings.ts'
import { heldRuns, runByTag, sheetCommand } from '../outputs/outputsCommand.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { jobOf, runOption } from './jobOf.ts'
import { judgedAsLed } from './judgedAsLed.ts'
import { modelsOf } from './modelsOf.ts'
import {
  LEAD_OPTION,
  MODELS_OPTION,
  OF_A_TABLE,
  OUT_OPTION,
  PAPER_OPTION,
  RELEASE_OPTIONS,
  RUN_OPTION,
  TITLE_OPTIONS,
} from './options.ts'
import { leadOption, outOption, paperOption, paperUnit } from './optionValue.ts'
import { releaseOption, titleOptions, tolerancesOption } from './titleBlock.ts'

const OPTIONS = {
  ...OF_A_TABLE,
  ...MODELS_OPTION,
  ...RUN_OPTION,
  ...LEAD_OPTION,
  ...OUT_OPTION,
  ...PAPER_OPTION,
  'app-url': { takes: 'URL' },
  tolerances: { takes: '1,0.5,1,3' },
  ...TITLE_OPTIONS,
  ...RELEASE_OPTIONS,
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values } = call
  const paper = paperOption(values)
  const appUrl = appUrlOption(values['app-url'])
  const out = outOption(values)
  const unit = paperUnit(values)
  const { document, solved, date } = await jobOf(call, { unitOfPaper: true })
  const findings = allFindings(document, solved, await modelsOf(document, call))
  const lead = leadOption(values)
  const override = releaseOption(values)
  const printed = values.run === undefined ? solved : [runByTag(solved, values.run)]
  const sheets = printed.filter(s => s.route !== null).length
  const orders = new Map(lead === null ? [] : printed.map(s => [s, judgedAsLed(document, s, lead)] as const))
  const orderOf = (s: SolvedRun) => orders.get(s)
  const made = await sheetCommand(document, solved, {
    ...{ date, findings, paper, unit, appUrl, ...runOption(values) },
    titleBlock: titleOptions(values, { sheets }),
    override,
    tolerances: tolerancesOption(values.tolerances),
    orderOf,
  })
  await call.io.write(out, made)
  return heldRuns(document, printed, { findings, override, orderOf }).length > 0 ? 1 : 0
}

/** The address of the app for the sheet's QR symbol, or null for the code alone. */
function appUrlOption(text: string | undefined): string | null {
  if (text === undefined) return null
  if (URL.canParse(text) && /^https?:/i.test(text)) return text
  throw new BadInput(
    `--app-url: found "${text}"; wanted the app's address, as in https://example.org/dogleg/`,
  )
}

/**
 * `sheet FILE --out F.pdf`: one run's sheet or a pack of all. Each sheet says itself whether it is released; exit 1 when
 * one is not, or a run has no sheet because it has no route.
 */
export const sheet = command({
  name: 'sheet',
  help: `  dogleg sheet FILE [--run TAG] [--lead A|B|best] [--paper A4|A3|Letter] [--app-url URL] --out F.pdf
                               the fabrication sheet of one run, or of all, in the checked order that clears the
                               bender, or as --lead says. Its QR code holds the sheet's code or, with the app's
                               address, a link that opens the run under Bend. Exit 1 when a run is not released
`,
  options: OPTIONS,
  run,
})
