import { BadInput } from './badInput.ts'
import { BenchError } from './bench/benchError.ts'
import { housingCheck } from './bench/housingCheck.ts'
import { type JudgedRun, judgeRun } from './bench/judgeRun.ts'
import type { Lead } from './bench/layOut.ts'
import { allFindings } from './checks/allFindings.ts'
import { type Call, documentFrom, leadOption, lengthOption, paperUnit } from './cliInput.ts'
import { modelsOf } from './cliModels.ts'
import { releaseOption, titleOptions, tolerancesOption } from './cliTitleBlock.ts'
import type { SkidDocument } from './document/types.ts'
import {
  EXPORTS,
  type ExportKind,
  exportCommand,
  runByTag,
  sheetCommand,
  stripCommand,
} from './outputs/outputsCommand.ts'
import { solveDocument } from './solve/solveRun.ts'
import type { SolvedRun } from './solve/types.ts'

/** `export FILE --to FORMAT --out F`. */
export async function exportFile(call: Call): Promise<number> {
  const { to } = call.values
  const kind = EXPORTS.find((e): e is ExportKind => e === to)
  if (!kind)
    throw new BadInput(
      `--to: found ${to === undefined ? 'nothing' : `"${to}"`}; wanted one of ${EXPORTS.join(', ')}`,
    )
  const out = outOption(call)
  const { document, solved, date } = await jobOf(call)
  const findings =
    kind === 'json' ? { findings: allFindings(document, solved, await modelsOf(document, call)) } : {}
  await call.io.write(
    out,
    exportCommand(document, solved, { to: kind, date, ...runOption(call), ...findings }),
  )
  return 0
}

/** `sheet FILE --out F.pdf`: one run's sheet or a pack of all. Each sheet says itself whether it is released. */
export async function sheet(call: Call): Promise<number> {
  const paper = paperOption(call)
  const appUrl = appUrlOption(call)
  const out = outOption(call)
  const unit = paperUnit(call.values)
  const { document, solved, date } = await jobOf(call, { unitOfPaper: true })
  const findings = allFindings(document, solved, await modelsOf(document, call))
  const lead = leadOption(call.values)
  const sheets = call.values.run === undefined ? solved.filter(s => s.route !== null).length : 1
  const made = sheetCommand(document, solved, {
    ...{ date, findings, paper, unit, appUrl, ...runOption(call) },
    titleBlock: titleOptions(call, { sheets }),
    override: releaseOption(call),
    tolerances: tolerancesOption(call),
    ...(lead === null ? {} : { orderOf: s => judged(document, s, lead) }),
  })
  await call.io.write(out, made)
  return 0
}

/** `strip FILE --run TAG --out F.pdf`: the marks 1:1, stretched by what the printed bars measured when given. */
export async function strip(call: Call): Promise<number> {
  const { values } = call
  const { form } = values
  if (form !== undefined && form !== 'lay' && form !== 'wrap')
    throw new BadInput(`--form: found "${form}"; wanted lay or wrap`)
  if ((values['bar-x'] === undefined) !== (values['bar-y'] === undefined))
    throw new BadInput('--bar-x and --bar-y: found one of them; wanted both bars as measured, or neither')
  const out = outOption(call)
  const unit = paperUnit(values)
  const { document, solved, date } = await jobOf(call, { unitOfPaper: true })
  const { run } = runOption(call)
  if (run === undefined) throw new BadInput(`--run: found nothing; wanted one of ${tagsOf(solved)}`)
  const measured =
    values['bar-x'] === undefined
      ? {}
      : { measured: { x: lengthOption(values, 'bar-x'), y: lengthOption(values, 'bar-y') } }
  const lead = leadOption(call.values)
  const own = runByTag(solved, run)
  const made = stripCommand(document, solved, {
    run,
    findings: lead === null ? housingCheck(document, own) : [],
    order: lead === null ? undefined : judged(document, own, lead),
    date,
    paper: paperOption(call),
    unit,
    ...(form === undefined ? {} : { form }),
    ...measured,
  })
  await call.io.write(out, made)
  return 0
}

async function jobOf(
  { file, values, io }: Call,
  allowed: { readonly unitOfPaper?: boolean } = {},
): Promise<{
  document: SkidDocument
  solved: SolvedRun[]
  /** ISO 8601 date-time of making, to the second. */
  date: string
}> {
  const document = await documentFrom(file, values, io, allowed)
  const solved = solveDocument(document)
  if (values.run !== undefined && !solved.some(s => s.tag === values.run))
    throw new BadInput(`--run: found "${values.run}"; wanted one of ${tagsOf(solved)}`)
  return { document, solved, date: new Date().toISOString().slice(0, 19) }
}

/** A run that cannot be laid out is printed without marks, and says why itself. */
function judged(document: SkidDocument, solved: SolvedRun, lead: Lead | 'best'): JudgedRun | undefined {
  try {
    return judgeRun(document, solved, lead)
  } catch (error) {
    if (error instanceof BenchError) return undefined
    throw error
  }
}

const tagsOf = (solved: readonly SolvedRun[]) => solved.map(s => `"${s.tag}"`).join(', ') || 'no runs at all'

const runOption = ({ values }: Call): { run?: string } =>
  typeof values.run === 'string' ? { run: values.run } : {}

export function paperOption({ values }: Call): 'A4' | 'A3' | 'Letter' {
  const paper = values.paper ?? 'A4'
  if (paper === 'A4' || paper === 'A3' || paper === 'Letter') return paper
  throw new BadInput(`--paper: found "${paper}"; wanted A4, A3 or Letter`)
}

/** The address of the app for the sheet's QR symbol, or null for the code alone. */
function appUrlOption({ values }: Call): string | null {
  const text = values['app-url']
  if (text === undefined) return null
  if (typeof text === 'string' && URL.canParse(text) && /^https?:/i.test(text)) return text
  throw new BadInput(
    `--app-url: found "${text}"; wanted the app's address, as in https://example.org/dogleg/`,
  )
}

export function outOption({ values }: Call): string {
  if (typeof values.out === 'string' && values.out !== '') return values.out
  throw new BadInput('--out: found nothing; wanted the file to write')
}
