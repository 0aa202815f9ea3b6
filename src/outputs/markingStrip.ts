import { CAUTIONS } from '../bender/cautions.ts'
import type { CheckedBendOrder } from '../bender/checkBendOrder.ts'
import { orderOf } from '../bender/layOut.ts'
import type { Decided } from '../checks/decisions.ts'
import { exampleFigures, exampleWords } from '../document/exampleFigures.ts'
import { formatAngle, type LengthUnit } from '../document/quantity.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { benchRun, firstLead, noMarksBecause, trimEnd } from './benchLayout.ts'
import { OutputError } from './outputError.ts'
import {
  BLACK,
  type Box,
  GREY,
  type Ink,
  line,
  overlap,
  PALE,
  type PaperItem,
  type PaperPage,
  RED,
  rectangle,
  words,
} from './paper.ts'
import { textWidth } from './paperFont.ts'
import { paperLengths } from './paperLengths.ts'
import { decidedOf, type Override, releaseState } from './releaseState.ts'
import { runCode } from './runCode.ts'
import { sentenceOnPaper } from './sentenceOnPaper.ts'
import { sheetBendOrder } from './sheetBendOrder.ts'
import { benchCautions, fontCaution } from './sheetText.ts'
import { orderLine } from './stepWords.ts'
import { barName, type HeadLine, stripHead } from './stripHead.ts'
import { turnWords } from './turnWords.ts'
import { writePdf } from './writePdf.ts'

export interface StripOptions {
  readonly paper?: 'A4' | 'A3' | 'Letter'
  /**
   * The end that leads through all bends, an order, or one that was judged for this run; left out, the order that the
   * checks looked at ({@link sheetBendOrder}).
   */
  readonly order?: Lead | readonly OrderedBend[] | CheckedBendOrder | undefined
  readonly unit?: LengthUnit
  /** Findings of the whole document, or null when the checks were not run: the strip then says so. Default null. */
  readonly findings?: readonly Finding[] | null
  /** Who lets it out although findings are open, and why. */
  readonly override?: Override | null
  /** 'lay': a band to lay along the stock; 'wrap': as wide as the tube is round, so that each mark closes to a ring. */
  readonly form?: 'lay' | 'wrap'
  /**
   * What the printed 100 mm bars measure on this printer, mm: everything is stretched so that they come out at 100. A
   * bar left out measures 100.
   */
  readonly measured?: { readonly x?: number; readonly y?: number }
  /** The printer that was measured, in the user's own words; printed beside the correction. */
  readonly printer?: string
  /** ISO 8601. */
  readonly date: string
}

/** Lying: width and height, mm. */
const SIZES = { A4: [297, 210], A3: [420, 297], Letter: [279.4, 215.9] } as const
const LEFT = 12
/** Kept free at the right for the upright check bar, and at the foot; most printers cannot print nearer than 6 mm to the edge. */
const RIGHT = 24
const FOOT = 8
/** Beyond the joining line, under the next strip's head. */
const TAB = 12
const BAND = 16
const BETWEEN = 9
export const CHECK_BAR = 100
export const MARK_WIDTH = 0.4
export const JOIN_WIDTH = 0.25
/** Of the strokes where the ports' faces come and where the trim comes off: no bend is marked there. */
export const SIDE_WIDTH = 0.3

/** Printers that are further off than this are set to fit the page: that is to be put right at the printer. */
const FURTHEST = 0.05

/** Divisions of the ruler, mm: from tick to tick, from a long one to the next, from figure to figure. */
const RULERS = {
  mm: { tick: 10, long: 50, figure: 50 },
  in: { tick: 25.4 / 4, long: 25.4, figure: 25.4 },
} as const

/**
 * The unrolled stock at 1:1 with a line at every mark, in strips across as many pages as it takes. Distances are from
 * the leading end's cut. Joining lines: the next strip's head lies on this strip's joining line of the same letter.
 *
 * @throws OutputError when the run has no layout (no bender, no tooling), or a measured bar is no plausible figure.
 */
export function stripPages(document: SkidDocument, solved: SolvedRun, options: StripOptions): PaperPage[] {
  const { paper = 'A4', unit = 'mm', form = 'lay' } = options
  const measured = { x: options.measured?.x ?? CHECK_BAR, y: options.measured?.y ?? CHECK_BAR }
  for (const axis of ['x', 'y'] as const)
    if (!(Math.abs(measured[axis] / CHECK_BAR - 1) <= FURTHEST))
      throw new OutputError(
        `strip: measured ${axis} bar`,
        `${measured[axis]} mm`,
        `${CHECK_BAR * (1 - FURTHEST)} to ${CHECK_BAR * (1 + FURTHEST)} mm: beyond that, print without fitting to the page`,
      )
  const { order, findings } = sheetBendOrder(document, solved, options.findings ?? null, options.order)
  const bench = benchRun(document, solved, order)
  const { layout, run } = bench
  if (!layout)
    throw new OutputError(
      `strip of run ${run.tag}`,
      noMarksBecause(bench) ?? 'no layout',
      'a bender with tooling, every figure of it measured: the marks depend on it',
    )
  const lead = firstLead(layout)
  const far = lead === 'A' ? 'B' : 'A'
  // All on one stock: what is measured from the other end is turned over.
  const steps = layout.steps.map(s => ({
    ...s,
    fromLead: s.lead === lead ? s.mark : layout.cutLength - s.mark,
    bendFrom: s.lead === lead ? s.start : layout.cutLength - s.start - s.stockUsed,
  }))
  const decided = decidedOf(document, run.id, findings)
  const state = releaseState(solved, decided, options.override)
  const kx = CHECK_BAR / measured.x
  const ky = CHECK_BAR / measured.y
  const [width, height] = SIZES[paper]
  const band = form === 'wrap' ? Math.PI * run.tube.od : BAND
  const ruler = RULERS[unit === 'mm' ? 'mm' : 'in']
  const unitWord = unit === 'mm' ? 'mm' : 'in'
  // Whole divisions of the ruler to a strip, so that the ticks come out even.
  const whole = unit === 'mm' ? 10 : 25.4
  const each = Math.floor((width - LEFT - RIGHT - TAB) / kx / whole) * whole
  const total = layout.cutLength
  const { length, withUnit } = paperLengths(unit)
  const inOneLine = orderLine(orderOf(layout))
  const head = stripHead({
    width,
    factors: { x: kx, y: ky },
    state,
    inch: unit !== 'mm',
    lines: [
      {
        text: 'Print at 100 %, not fitted to the page. Both bars must then measure 100 mm with a ruler you trust; if not, enter what they measure and print again.',
      },
      ...(inOneLine === null ? [] : [{ text: inOneLine, bold: true }]),
      ...correctionLines(options, measured, { x: kx, y: ky }),
      { text: CAUTIONS.join(' '), small: true },
      ...exampleWords(exampleFigures(document, run)).map(text => ({ text, small: true })),
      ...cautionLines(decided, run.id, unit).map(text => ({ text, bold: true })),
      ...fontCaution([
        run.tag,
        options.printer ?? '',
        options.override?.by ?? '',
        options.override?.reason ?? '',
      ]).map(text => ({ text, bold: true })),
    ],
  })
  const top = head.height
  const rowHeight = band + BETWEEN
  const rows = Math.floor((height - top - FOOT) / ky / rowHeight)
  if (rows < 1)
    throw new OutputError(
      `strip of run ${run.tag}`,
      `a tube ${band.toFixed(0)} mm round`,
      'a smaller tube, larger paper, or the lay-along form',
    )
  const strips = Math.max(1, Math.ceil(total / each - 1e-9))
  const pages = Math.ceil(strips / rows)
  const insertion = { A: solved.insertionA, B: solved.insertionB }
  const trimmed = total - layout.trim
  /** Strokes beside the marks, mm from the leading end: the ports' faces, and where the trim comes off after bending. */
  const sides = [
    { at: insertion[lead], text: `INSERTION, END ${lead}  ${length(insertion[lead])}` },
    {
      at: trimmed - insertion[far],
      text: `INSERTION, END ${far}  ${length(insertion[far])}${layout.trim > 0 ? ' (from the trim)' : ''}`,
    },
    ...(layout.trim > 0
      ? [{ at: trimmed, text: `TRIM ${length(layout.trim)} OFF END ${trimEnd(layout)} AFTER THE LAST BEND` }]
      : []),
  ].filter((_, i) => i === 2 || insertion[i === 0 ? lead : far] > 0)

  return Array.from({ length: pages }, (_, page): PaperPage => {
    const about = `cut length ${withUnit(total)}   tube ${tubeSizeText(run.tube, unit)}   code ${runCode(bench, solved)}   page ${page + 1} / ${pages}   ${options.date.slice(0, 10)}`
    const items: PaperItem[] = head.draw(`${run.tag}   marking strip 1:1   from end ${lead}`, about)
    const upX = width - 10
    const upY = top + 2
    items.push(line(upX, upY, upX, upY + CHECK_BAR * ky, 0.25))
    for (const y of [upY, upY + CHECK_BAR * ky]) items.push(line(upX - 2, y, upX + 2, y, 0.25))
    items.push(
      words(upX - 1.4, upY + (CHECK_BAR * ky) / 2, barName('Y', unit !== 'mm'), 2.6, {
        anchor: 'middle',
        turn: 90,
      }),
    )

    for (let row = 0; row < rows; row++) {
      const strip = page * rows + row
      if (strip >= strips) break
      const y = top + row * rowHeight * ky
      const from = strip * each
      const last = strip === strips - 1
      const stop = last ? total : from + each + TAB / kx
      const at = (mm: number) => LEFT + (mm - from) * kx
      const low = y + band * ky
      for (const s of steps) {
        const [a, b] = [Math.max(from, s.bendFrom), Math.min(stop, s.bendFrom + s.stockUsed)]
        if (b > a) items.push(rectangle({ x: at(a), y, w: (b - a) * kx, h: band * ky }, { fill: PALE }))
      }
      items.push(line(at(from), y, at(stop), y, 0.13), line(at(from), low, at(stop), low, 0.13))
      const figures: number[] = []
      for (let k = Math.ceil(from / ruler.tick - 1e-9); k * ruler.tick <= stop + 1e-9; k++) {
        const mm = k * ruler.tick
        const every = (step: number) => Math.abs(mm / step - Math.round(mm / step)) < 1e-6
        items.push(line(at(mm), low, at(mm), low - (every(ruler.long) ? 3 : 1.6), 0.1, GREY))
        const atJoin = !last && Math.abs(mm - from - each) < 6
        if (every(ruler.figure) && mm > from + 1e-6 && mm < stop - 6 && !atJoin) figures.push(mm)
      }
      for (const [i, mm] of figures.entries()) {
        const figure = String(Math.round(unit === 'mm' ? mm : mm / 25.4))
        items.push(
          words(at(mm), low + 2.6, i === 0 ? `${figure} ${unitWord}` : figure, 2.2, {
            anchor: 'middle',
            ink: GREY,
          }),
        )
      }
      const join = (mm: number, letter: string) => {
        items.push(line(at(mm), y - 2, at(mm), low + 2, JOIN_WIDTH, GREY, [1.2, 0.8]))
        items.push(words(at(mm), low + 5.4, letter, 2.6, { anchor: 'middle', bold: true }))
      }
      if (strip === 0) {
        items.push(line(at(0), y - 2, at(0), low + 2, 0.7))
        items.push(words(at(0), low + 5.4, `END ${lead}`, 2.6, { bold: true }))
      } else join(from, joinName(strip - 1))
      if (last) {
        items.push(line(at(total), y - 2, at(total), low + 2, 0.7))
        items.push(
          words(at(total), low + 5.4, `CUT, END ${far}  ${length(total)}`, 2.6, {
            bold: true,
            anchor: total - from > 60 ? 'end' : 'start',
          }),
        )
      } else join(from + each, joinName(strip))
      // Cut apart, each strip still says whose it is and that it is not released.
      const owner = `${run.tag}${state.good ? '' : `   ${state.text}`}`
      if (Math.min(stop, from + each) - from > 140)
        items.push(
          words(at(from) + 34, low + 5.4, owner, 2.6, state.good ? { ink: GREY } : { ink: RED, bold: true }),
        )
      // Words beside a stroke, where no others of this strip stand already.
      const taken: Box[] = [...steps.map(s => s.fromLead), ...sides.map(s => s.at)]
        .filter(mm => mm >= from && mm <= stop)
        .map(mm => ({ x: at(mm) - 0.3, y, w: 0.6, h: band * ky }))
      const limit = Math.min(width - RIGHT, at(stop))
      const beside = (mm: number, lines: readonly Words[], downs: readonly number[]) => {
        const w = Math.max(...lines.map(l => textWidth(l.text, l.size, l.bold)))
        const tall = lines.reduce((sum, l) => sum + l.size * 1.3, 0)
        const places = downs.flatMap(down =>
          [1, -1].map(side => ({
            side,
            down,
            box: { x: at(mm) + (side > 0 ? 1.2 : -1.2 - w), y: y + down, w, h: tall },
          })),
        )
        const fits = places.filter(({ box }) => box.x >= LEFT && box.x + box.w <= limit)
        const free = fits.find(({ box }) => !taken.some(t => overlap(t, box)))
        const { side, box } = free ?? fits[0] ?? places[0]!
        taken.push(box)
        let base = box.y
        for (const { text, size, bold = false, ink = BLACK } of lines) {
          base += size * 1.3
          const anchor = side > 0 ? 'start' : 'end'
          items.push(words(at(mm) + side * 1.2, base - 0.3 * size, text, size, { bold, ink, anchor }))
        }
      }
      const deep = band * ky
      for (const [i, s] of steps.entries()) {
        if (!(s.fromLead >= from && s.fromLead <= stop)) continue
        items.push(line(at(s.fromLead), y, at(s.fromLead), low, MARK_WIDTH))
        if (s.fromLead > from + each && !last) continue
        const swung = s.turnedAround ? `end for end, end ${s.lead} first; ` : ''
        const dial = s.dial === null ? 'by trial' : `${formatAngle(s.dial, 1, true)}°`
        beside(
          s.fromLead,
          [
            {
              text: `STEP ${i + 1}   BEND ${s.bend + 1}   ${length(s.mark)} from end ${s.lead}`,
              size: 2.8,
              bold: true,
            },
            { text: `${swung}${turnWords(s.turn)}; dial ${dial}`, size: 2.4 },
          ],
          [1.2, Math.max(1.2, deep / 2 + 0.2)],
        )
      }
      for (const side of sides) {
        if (!(side.at >= from && side.at <= stop)) continue
        items.push(line(at(side.at), y, at(side.at), low, SIDE_WIDTH, GREY, [2.4, 0.7, 0.4, 0.7]))
        if (side.at > from + each && !last) continue
        beside(side.at, [{ text: side.text, size: 2, ink: GREY }], [deep - 5.4, 1.2, deep / 2])
      }
    }
    return { width, height, items }
  })
}

interface Words {
  readonly text: string
  readonly size: number
  readonly bold?: boolean
  readonly ink?: Ink
}

/** What the check of the bender holds against this order, as the sheet says it. */
const cautionLines = (decided: readonly Decided[] | null, runId: string, unit: LengthUnit): string[] =>
  benchCautions(decided, runId, sentence => sentenceOnPaper(sentence, unit, { inchDigits: 3 }))

/** That it is stretched, by what, and for which printer alone it is right. */
function correctionLines(
  { measured, printer }: StripOptions,
  bars: { readonly x: number; readonly y: number },
  factors: { readonly x: number; readonly y: number },
): HeadLine[] {
  if (measured === undefined || (factors.x === 1 && factors.y === 1)) return []
  const name = printer?.trim()
  return [
    {
      text: `CORRECTED for ${name ? `printer “${name}”` : 'the printer'} whose bars measured X ${bars.x} mm and Y ${bars.y} mm: stretched by ${factors.x.toFixed(4)} along and ${factors.y.toFixed(4)} across. Right on that printer only.`,
      bold: true,
    },
  ]
}

const joinName = (join: number): string =>
  `${String.fromCharCode(97 + (join % 26))}${join >= 26 ? Math.floor(join / 26) : ''}`

/** The strip as a PDF that asks the printer not to scale. */
export const stripPdf = async (
  document: SkidDocument,
  solved: SolvedRun,
  options: StripOptions,
): Promise<Uint8Array> =>
  writePdf(stripPages(document, solved, options), {
    title: `Marking strip ${solved.tag}`,
    author: '',
    date: options.date,
    noScaling: true,
  })
