import type { CheckedBendOrder } from '../../bender/checkBendOrder.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { sheetPages } from '../../outputs/fabricationSheet.ts'
import { type StripOptions, stripPages } from '../../outputs/markingStrip.ts'
import { OutputError } from '../../outputs/outputError.ts'
import { type ExportKind, exportCommand, sheetCommand, stripCommand } from '../../outputs/outputsCommand.ts'
import type { PaperPage } from '../../outputs/paper.ts'
import { type ReviewOptions, reviewPages, reviewPdf } from '../../outputs/review/reviewSheets.ts'
import type { SheetTolerances } from '../../outputs/sheetText.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { PaperSettings } from './paperSettings.ts'

export interface Job {
  readonly document: SkidDocument
  /** The run chosen, or all. */
  readonly solved: readonly SolvedRun[]
  readonly all: readonly SolvedRun[]
  readonly unit: LengthUnit
  readonly settings: PaperSettings
  readonly measured: StripOptions['measured'] | 'bad'
  readonly findings: readonly Finding[] | null
  /** The one run chosen, judged with the end leading that was asked for; null when it is not (yet). */
  readonly judged: CheckedBendOrder | null
  /** What the review report is made of. */
  readonly review: ReviewOptions
}
interface Written {
  readonly data: string | Uint8Array<ArrayBuffer>
  /** Put behind the document's name. */
  readonly name: string
  readonly type: string
}
export interface Make {
  readonly id: string
  readonly label: string
  readonly tells: string
  readonly ending: string
  /** Comes on paper of a chosen size. */
  readonly paper: boolean
  /** Follows an order of bends. */
  readonly bench: boolean
  /** null when it stands on screen with buttons of its own. */
  readonly write: ((job: Job) => Promise<Written>) | null
}

const today = () => new Date().toISOString().slice(0, 19)
export const nameOf = ({ solved, all }: Pick<Job, 'solved' | 'all'>) =>
  solved.length === all.length ? 'all' : (solved[0]?.tag ?? 'none')
const runOf = ({ solved }: Job) => (solved.length === 1 && solved[0] ? { run: solved[0].tag } : {})
const bytes = (data: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(data)

/** What was given of the shop's tolerances; null when nothing was. */
function tolerancesOf({ tolLength, tolAngle, tolTurn, tolEnds }: PaperSettings): SheetTolerances | null {
  const [length = null, angle = null, turn = null, ends = null] = [tolLength, tolAngle, tolTurn, tolEnds].map(
    text => (text === '' || !Number.isFinite(Number(text)) ? null : Number(text)),
  )
  const given = { length, angle, turn, ends }
  return Object.values(given).some(figure => figure !== null) ? given : null
}

/** The order asked for, with what is found of it once that is known; nothing asked for: the order of the checks. */
const orderOf = ({ settings: { leading }, judged }: Job) =>
  leading === 'checked' ? {} : { order: judged ?? leading }

/** Who lets it out with findings open, and why; null unless both are said. */
function overrideOf({ overrideBy, overrideReason }: PaperSettings) {
  const [by, reason] = [overrideBy.trim(), overrideReason.trim()]
  return by && reason ? { by, reason } : null
}

function sheetOptions(job: Job) {
  const { document, settings, unit, findings } = job
  const { owner, number, creator, approver, revision } = settings
  const block = { owner, number, creator, approver, revision }
  const titleBlock = Object.fromEntries(Object.entries(block).filter(([, value]) => value.trim() !== ''))
  return {
    document,
    options: {
      paper: settings.paper,
      ...orderOf(job),
      unit,
      findings,
      titleBlock,
      override: overrideOf(settings),
      tolerances: tolerancesOf(settings),
      date: today(),
      appUrl: location.origin + location.pathname,
    },
  }
}

function stripOptions(job: Job): StripOptions {
  const { settings, unit, measured, findings } = job
  const correction =
    measured === undefined || measured === 'bad' ? {} : { measured, printer: settings.printer.trim() }
  return {
    paper: settings.paper,
    ...orderOf(job),
    ...{ unit, findings, override: overrideOf(settings), date: today() },
    ...correction,
  }
}

function reviewOptions(job: Job): ReviewOptions {
  const { titleBlock } = sheetOptions(job).options
  return { ...job.review, paper: job.settings.paper, titleBlock }
}

/** The preview shows so many pages of a report: the file has them all. */
const MOST_PREVIEWED = 12

/** @throws OutputError when the strip is asked for of more than one run. */
function oneTag({ solved }: Job): string {
  if (solved.length === 1 && solved[0]) return solved[0].tag
  throw new OutputError('the marking strip', `${solved.length} runs`, 'one run, chosen above')
}

const exported = (
  kind: ExportKind,
  label: string,
  tells: string,
  type: string,
  ending = `.${kind}`,
): Make => ({
  id: kind,
  label,
  tells,
  ending,
  paper: false,
  bench: false,
  write: async job => ({
    data: bytes(exportCommand(job.document, job.all, { to: kind, date: today(), ...runOf(job) })),
    name: nameOf(job),
    type,
  }),
})

export const EXPORT_CATALOGUE: readonly Make[] = [
  {
    id: 'sheet',
    label: 'Fabrication sheet',
    tells: 'PDF: drawing, marks, rotations, dial readings, set-up',
    ending: '.pdf',
    paper: true,
    bench: true,
    write: async job => {
      const { document, options } = sheetOptions(job)
      return {
        data: bytes(await sheetCommand(document, job.all, { ...options, ...runOf(job) })),
        name: `${nameOf(job)} sheet`,
        type: 'application/pdf',
      }
    },
  },
  {
    id: 'strip',
    label: 'Marking strip',
    tells: 'PDF at 1:1 to lay along the stock',
    ending: '.pdf',
    paper: true,
    bench: true,
    write: async job => ({
      data: bytes(await stripCommand(job.document, job.all, { ...stripOptions(job), run: oneTag(job) })),
      name: `${nameOf(job)} strip`,
      type: 'application/pdf',
    }),
  },
  {
    id: 'review',
    label: 'Review report',
    tells: 'PDF of all runs: every finding, a picture of each open gap, decisions',
    ending: '.pdf',
    paper: true,
    bench: false,
    write: async job => ({
      data: bytes(await reviewPdf(job.document, job.all, reviewOptions(job))),
      name: 'review',
      type: 'application/pdf',
    }),
  },
  {
    id: 'cutlist',
    label: 'Cut list and material',
    tells: 'bars to cut and what to order, as PDF, CSV or JSON',
    ending: '',
    paper: true,
    bench: false,
    write: null,
  },
  exported('step', 'STEP', 'solid tubes with their bore, for the CAD office', 'model/step'),
  exported('glb', 'GLB', 'tubes as a mesh', 'model/gltf-binary'),
  exported('stl', 'STL', 'tubes as a mesh of triangles', 'model/stl'),
  exported('dxf', 'DXF', 'centre lines with true arcs', 'image/vnd.dxf'),
  exported('svg', 'SVG', 'drawing of each run, one under another', 'image/svg+xml'),
  exported('csv', 'Points', 'CSV: x, y, z of one run', 'text/csv;charset=utf-8', '-points.csv'),
  exported(
    'rows',
    'Bend rows',
    'CSV: straight, rotation, angle of one run',
    'text/csv;charset=utf-8',
    '-rows.csv',
  ),
  exported('json', 'Solved figures', 'JSON with every digit', 'application/json', '-solved.json'),
]

/** The pages as they will be printed; none for what is no paper. @throws OutputError as the output itself does. */
export function pagesOf(make: Make, job: Job): readonly PaperPage[] {
  if (make.id === 'sheet') {
    const { document, options } = sheetOptions(job)
    const first = job.solved.find(s => s.route !== null) ?? job.solved[0]
    return first ? sheetPages(document, first, options) : []
  }
  if (make.id === 'review')
    return reviewPages(job.document, job.all, reviewOptions(job)).slice(0, MOST_PREVIEWED)
  if (make.id === 'strip') {
    oneTag(job)
    return job.solved[0] ? stripPages(job.document, job.solved[0], stripOptions(job)) : []
  }
  return []
}
