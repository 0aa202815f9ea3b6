import { CAUTIONS } from '../bender/cautions.ts'
import type { CheckedBendOrder } from '../bender/checkBendOrder.ts'
import { isOpen } from '../checks/decisions.ts'
import { formatLength, type LengthUnit } from '../document/quantity.ts'
import type { Sentence } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { benchRun } from './benchLayout.ts'
import { drawSquareViews } from './drawSquareViews.ts'
import { drawView } from './drawView.ts'
import { BLACK, type Box, moved, type PaperItem, type PaperPage, rectangle } from './paper.ts'
import { paperLengths } from './paperLengths.ts'
import { decidedOf, type Override } from './releaseState.ts'
import { sentenceOnPaper } from './sentenceOnPaper.ts'
import { sheetBendOrder } from './sheetBendOrder.ts'
import { drawn, facts, gap, heading, place, sentences, together, type Unit } from './sheetFlow.ts'
import { endName, keyFacts, masthead } from './sheetHead.ts'
import { supportMarks, supportTable } from './sheetSupports.ts'
import { bendTable, findingLines, pointTable } from './sheetTables.ts'
import {
  benchCautions,
  cautionsOf,
  fontCaution,
  type SheetTolerances,
  setUp,
  toleranceLines,
} from './sheetText.ts'
import { finishedOrThrow } from './solidTubes.ts'
import { TITLE_HEIGHT, TITLE_WIDTH, type TitleBlock, titleBlock } from './titleBlock.ts'
import { ISOMETRIC } from './views.ts'
import { writePdf } from './writePdf.ts'

export type PaperSize = 'A4' | 'A3' | 'Letter'

/** Width and height as the sheet stands, mm: A4 and Letter upright, A3 lying. */
const SIZES: Record<PaperSize, readonly [number, number]> = {
  A4: [210, 297],
  A3: [420, 297],
  Letter: [215.9, 279.4],
}
const BINDING = 20
const EDGE = 10
/** Between the frame and what is in it, mm. */
const INSET = 2.5
/** Heights that the isometric may have, and the square views together, mm: the largest that costs no further sheet. */
const ISO_HEIGHTS: Record<PaperSize, readonly number[]> = {
  A4: [82, 74, 66, 58],
  A3: [104, 92, 80],
  Letter: [72, 63, 54],
}
const SQUARE_HEIGHTS: Record<PaperSize, readonly number[]> = {
  A4: [150, 125, 100],
  A3: [160, 130],
  Letter: [130, 115, 100],
}

const heightOf = (units: readonly Unit[]) => units.reduce((all, { height }) => all + height, 0)

/** The units with `last` among them, so far down as both still go into a first column of this height. */
function beforeItIsFull(units: readonly Unit[], last: readonly Unit[], height: number): Unit[] {
  const room = height - heightOf(last)
  let at = 0
  let taken = 0
  units.forEach((unit, i) => {
    taken += unit.height
    if (taken <= room && !unit.keepWithNext) at = i + 1
  })
  return [...units.slice(0, at), ...last, ...units.slice(at)]
}

export interface SheetOptions {
  readonly paper?: PaperSize
  readonly unit?: LengthUnit
  /** For fractions: nearest one of this many parts of an inch, 16 or 32. Default 32. */
  readonly fractionOf?: number
  /**
   * The end that leads through all bends, an order, or one that was judged for this run; left out, the order that the
   * checks looked at ({@link sheetBendOrder}).
   */
  readonly order?: Lead | readonly OrderedBend[] | CheckedBendOrder | undefined
  readonly titleBlock?: Partial<TitleBlock>
  /** ISO 8601 date-time of making, for the file and, when the block has none, the date of issue. */
  readonly date: string
  /** Findings of the whole document, or null when the checks were not run: the sheet then says so. */
  readonly findings: readonly Finding[] | null
  /** Who lets the sheet go out although findings are open, and why. */
  readonly override?: Override | null
  /** Null or left out: none are given; a skid of invented figures then has invented ones. */
  readonly tolerances?: SheetTolerances | null
  /** Where the app is, for the QR symbol: it then holds a link. Null or left out: the sheet's code alone. */
  readonly appUrl?: string | null
}

/** The sheet of one run as pages of paper. @throws OutputError when the run has no route. */
export function sheetPages(document: SkidDocument, solved: SolvedRun, options: SheetOptions): PaperPage[] {
  const { paper = 'A4', unit = 'mm', fractionOf = 32 } = options
  const tube = finishedOrThrow(solved)
  const { order, findings } = sheetBendOrder(document, solved, options.findings, options.order)
  const bench = benchRun(document, solved, order)
  const { run } = bench
  const block: TitleBlock = {
    owner: '',
    number: run.tag,
    title: `Tube run ${run.tag}${run.service ? `, ${run.service}` : ''}`,
    creator: '',
    approver: '',
    date: options.date.slice(0, 10),
    revision: '',
    documentType: 'Fabrication sheet',
    ...options.titleBlock,
  }
  const [width, height] = SIZES[paper]
  const across = paper === 'A3' ? 2 : 1
  const frame: Box = { x: BINDING, y: EDGE, w: width - BINDING - EDGE, h: height - 2 * EDGE }
  const space = 8
  const w = (frame.w - 2 * INSET - (across - 1) * space) / across
  const columns = (index: number): Box => {
    const place = index % across
    const withBlock = place === across - 1
    return {
      x: frame.x + INSET + place * (w + space),
      y: frame.y + 1,
      w,
      h: frame.h - 1 - (withBlock ? TITLE_HEIGHT + 2 : 0),
    }
  }

  const lengths = paperLengths(unit, fractionOf)
  const { length, withUnit } = lengths
  const said = (sentence: Sentence) => {
    for (const part of sentence) if (typeof part !== 'string') lengths.note(part.mm)
    return sentenceOnPaper(sentence, unit, { fractionOf, inchDigits: 3 })
  }
  // A tolerance to the nearest 1/32 in would be another one.
  const small = (mm: number) =>
    unit === 'mm' ? `${formatLength(mm, 'mm')} mm` : `${formatLength(mm, 'in', { digits: 3 })} in`
  const decided = decidedOf(document, run.id, findings)
  const head: Unit[] = [masthead(bench, solved, decided, options.override, w, options.appUrl ?? null)]
  if (document.invented)
    head.push(...sentences(['Invented demo data: not a real job, and no real machine.'], w, '!'))
  head.push(...facts(keyFacts(document, bench, solved, withUnit, unit === 'mm'), w, 4))
  head.push(gap(2), ...bendTable(bench, solved, w, lengths))
  const picture = (height: number, items: readonly PaperItem[], notes: readonly string[]): Unit[] => [
    { height, draw: (x, y) => moved(items, x, y), keepWithNext: notes.length > 0 },
    ...sentences(notes, w),
  ]
  const { od } = run.tube
  const supports = supportMarks(document, solved)
  const cautions = [
    ...benchCautions(decided, run.id, said),
    ...cautionsOf(document, bench, solved, withUnit),
    ...fontCaution([
      run.tag,
      run.service,
      run.tube.material,
      document.name,
      ...Object.values(block),
      bench.bender?.name ?? '',
      bench.tooling?.id ?? '',
      ...[run.endA, run.endB].map(end => endName(document, end)),
      ...document.supports.filter(s => s.run === run.id).flatMap(s => [s.name, s.type]),
      options.override?.by ?? '',
      options.override?.reason ?? '',
    ]),
  ]
  const cautionUnits = [
    heading('Cautions', w),
    ...sentences([CAUTIONS.join(' ')], w, '!'),
    ...(cautions.length > 0
      ? sentences(cautions, w, '!')
      : sentences(['No further cautions for this run.'], w)),
  ]
  const setUpUnits = [
    heading('Set-up', w),
    ...sentences(setUp(bench, solved, withUnit, unit === 'mm'), w, 'box'),
  ]
  // What is done before the first bend is read at one go, wherever it fits into one column.
  const setUpFits = heightOf(setUpUnits) <= columns(across - 1).h
  const before = [
    ...beforeItIsFull(head, cautionUnits, columns(0).h),
    ...(setUpFits ? together(setUpUnits, 0, setUpUnits.length) : setUpUnits),
  ]
  const isos = ISO_HEIGHTS[paper].map(height => {
    const box = { x: 0, y: 0, w, h: height - 2 }
    const { items, notes } = drawView(tube, ISOMETRIC, box, {
      od,
      length,
      dimensions: [],
      legs: true,
      supports,
    })
    return { notes: notes.length, height, units: [gap(2), ...picture(height, items, notes)] }
  })
  const squares = SQUARE_HEIGHTS[paper].map(height => {
    const square = drawSquareViews(tube, od, { w, h: height }, length, supports)
    return {
      notes: square.notes.length,
      scale: square.scale,
      units: picture(square.height + 2, square.items, square.notes),
    }
  })
  const units: Unit[] = []
  units.push(
    ...sentences(
      [
        `Running dimensions of the corners from end A of the tube along the skid axes. A and B are the tube’s ends; numbers in rings are bends${tube.faces.length > 0 ? '; strokes across the tube near its ends are the port faces' : ''}. Figures in parentheses are for reference: they follow from the table of bends.`,
      ],
      w,
    ),
  )
  units.push(...pointTable(run, solved, w, length))
  units.push(...supportTable(document, solved, w, length))
  units.push(...findingLines(decided, w, said))
  if (options.override && decided?.some(isOpen))
    units.push(
      ...sentences(
        [`Released with open findings by ${options.override.by}: ${options.override.reason}`],
        w,
        '!',
      ),
    )
  units.push(
    heading('Tolerances', w),
    ...sentences(toleranceLines(options.tolerances ?? null, document.invented, solved, small), w),
  )
  if (unit === 'fraction') {
    const worst = lengths.worst()
    const error = (mm: number) => `${mm.toFixed(2)} mm (${(mm / 25.4).toFixed(4)} in)`
    units.push(
      ...sentences(
        [
          `Lengths are rounded to the nearest 1/${fractionOf} in; the largest rounding error on this sheet is ${error(worst.length)}.${worst.between > 0 ? ` Distances from the previous mark are differences of the printed marks and add up to them; the largest error of one is ${error(worst.between)}.` : ''}`,
        ],
        w,
      ),
    )
  }

  // Fewest sheets first; then pictures with all their figures; then the larger ones.
  const sheetsOf = (columnsUsed: number) => Math.ceil(columnsUsed / across)
  const { placed } = isos
    .flatMap(iso =>
      squares.map(square => ({
        placed: place([...before, ...iso.units, ...square.units, ...units], columns),
        notes: iso.notes + square.notes,
        size: iso.height * square.scale,
      })),
    )
    .reduce((best, next) =>
      (sheetsOf(next.placed.length) - sheetsOf(best.placed.length) ||
        next.notes - best.notes ||
        best.size - next.size) < 0
        ? next
        : best,
    )
  const filled = drawn(placed)
  const count = sheetsOf(filled.length)
  const unitName =
    unit === 'mm' ? 'mm, degrees' : unit === 'in' ? 'inches, degrees' : `inches to 1/${fractionOf}, degrees`
  return Array.from({ length: count }, (_, p): PaperPage => {
    const items: PaperItem[] = [rectangle(frame, { stroke: BLACK, width: 0.5 })]
    for (let c = 0; c < across; c++) items.push(...(filled[p * across + c] ?? []))
    const at: Box = {
      x: frame.x + frame.w - (across === 1 ? frame.w : TITLE_WIDTH),
      y: frame.y + frame.h - TITLE_HEIGHT,
      w: across === 1 ? frame.w : TITLE_WIDTH,
      h: TITLE_HEIGHT,
    }
    items.push(...titleBlock(at, block, `${p + 1} / ${count}`, unitName))
    return { width, height, items }
  })
}

/** The order that a run's sheet goes by, as {@link SheetOptions.order}. */
export type OrderOf = (solved: SolvedRun) => SheetOptions['order']

/** The sheets of one or many runs as one PDF: the same document, options and date give the same bytes. */
export async function sheetPdf(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: SheetOptions,
  orderOf?: OrderOf,
): Promise<Uint8Array> {
  const tags = solved.map(s => s.tag).join(', ')
  return writePdf(
    solved.flatMap(s => sheetPages(document, s, orderOf ? { ...options, order: orderOf(s) } : options)),
    { title: `Fabrication sheet ${tags}`, author: options.titleBlock?.creator ?? '', date: options.date },
  )
}
