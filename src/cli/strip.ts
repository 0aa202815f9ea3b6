import { housingCheck } from '../bench/housingCheck.ts'
import { runByTag, stripCommand } from '../outputs/outputsCommand.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { jobOf, tagsOf } from './jobOf.ts'
import { judgedAsLed } from './judgedAsLed.ts'
import { LEAD_OPTION, OF_A_TABLE, OUT_OPTION, PAPER_OPTION, RUN_OPTION } from './options.ts'
import { leadOption, lengthOption, outOption, paperOption, paperUnit } from './optionValue.ts'

const OPTIONS = {
  ...OF_A_TABLE,
  ...RUN_OPTION,
  ...LEAD_OPTION,
  ...OUT_OPTION,
  ...PAPER_OPTION,
  form: { takes: 'lay|wrap' },
  'bar-x': { takes: 'MM' },
  'bar-y': { takes: 'MM' },
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values } = call
  const { form } = values
  if (form !== undefined && form !== 'lay' && form !== 'wrap')
    throw new BadInput(`--form: found "${form}"; wanted lay or wrap`)
  if ((values['bar-x'] === undefined) !== (values['bar-y'] === undefined))
    throw new BadInput('--bar-x and --bar-y: found one of them; wanted both bars as measured, or neither')
  const out = outOption(values)
  const unit = paperUnit(values)
  const { document, solved, date } = await jobOf(call, { unitOfPaper: true })
  if (values.run === undefined) throw new BadInput(`--run: found nothing; wanted one of ${tagsOf(solved)}`)
  const measured =
    values['bar-x'] === undefined
      ? {}
      : { measured: { x: lengthOption(values, 'bar-x'), y: lengthOption(values, 'bar-y') } }
  const lead = leadOption(values)
  const own = runByTag(solved, values.run)
  const made = stripCommand(document, solved, {
    run: values.run,
    findings: lead === null ? housingCheck(document, own) : [],
    order: lead === null ? undefined : judgedAsLed(document, own, lead),
    date,
    paper: paperOption(values),
    unit,
    ...(form === undefined ? {} : { form }),
    ...measured,
  })
  await call.io.write(out, made)
  return 0
}

/** `strip FILE --run TAG --out F.pdf`: the marks 1:1, stretched by what the printed bars measured when given. */
export const strip = command({
  name: 'strip',
  help: `  dogleg strip FILE --run TAG [--lead A|B|best] [--form lay|wrap] [--paper A4|A3|Letter]
               [--bar-x MM --bar-y MM] --out F.pdf
                               the marks 1:1 to lay along the stock or wrap round it; the bars as measured
                               on a first print correct the printer
`,
  options: OPTIONS,
  run,
})
