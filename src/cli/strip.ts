import { allFindings } from '../checks/allFindings.ts'
import { heldRuns, runByTag, stripCommand } from '../outputs/outputsCommand.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { jobOf, tagsOf } from './jobOf.ts'
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
} from './options.ts'
import { leadOption, lengthOption, outOption, paperOption, paperUnit } from './optionValue.ts'
import { releaseOption } from './titleBlock.ts'

const OPTIONS = {
  ...OF_A_TABLE,
  ...MODELS_OPTION,
  ...RUN_OPTION,
  ...LEAD_OPTION,
  ...OUT_OPTION,
  ...PAPER_OPTION,
  form: { takes: 'lay|wrap' },
  'bar-x': { takes: 'MM' },
  'bar-y': { takes: 'MM' },
  printer: { takes: 'NAME' },
  ...RELEASE_OPTIONS,
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values } = call
  const { form } = values
  if (form !== undefined && form !== 'lay' && form !== 'wrap')
    throw new BadInput(`--form: found "${form}"; wanted lay or wrap`)
  const out = outOption(values)
  const unit = paperUnit(values)
  const { document, solved, date } = await jobOf(call, { unitOfPaper: true })
  if (values.run === undefined) throw new BadInput(`--run: found nothing; wanted one of ${tagsOf(solved)}`)
  const measured = {
    ...(values['bar-x'] === undefined ? {} : { x: lengthOption(values, 'bar-x') }),
    ...(values['bar-y'] === undefined ? {} : { y: lengthOption(values, 'bar-y') }),
  }
  const { printer } = values
  if (printer !== undefined && Object.keys(measured).length === 0)
    throw new BadInput('--printer: found no measured bar beside it; wanted --bar-x or --bar-y, or both')
  const lead = leadOption(values)
  const own = runByTag(solved, values.run)
  const order = lead === null ? undefined : judgedAsLed(document, own, lead)
  const findings = allFindings(document, solved, await modelsOf(document, call))
  const override = releaseOption(values)
  const made = await stripCommand(document, solved, {
    run: values.run,
    ...{ findings, order, override, date, unit },
    paper: paperOption(values),
    ...(form === undefined ? {} : { form }),
    ...(Object.keys(measured).length === 0 ? {} : { measured }),
    ...(printer === undefined ? {} : { printer }),
  })
  await call.io.write(out, made)
  return heldRuns(document, [own], { findings, override, orderOf: () => order }).length > 0 ? 1 : 0
}

/**
 * `strip FILE --run TAG --out F.pdf`: the marks 1:1, stretched by what the printed bars measured when given. Exit 1 when
 * findings are open that nobody lets pass, or the run cannot be made: it is stamped so.
 */
export const strip = command({
  name: 'strip',
  help: `  dogleg strip FILE --run TAG [--lead A|B|best] [--form lay|wrap] [--paper A4|A3|Letter]
               [--bar-x MM] [--bar-y MM] [--printer NAME] --out F.pdf
                               the marks 1:1 to lay along the stock or wrap round it; give a bar as measured on
                               a first print to correct that printer. Exit 1 when the run is not released
`,
  options: OPTIONS,
  run,
})
