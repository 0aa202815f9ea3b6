import type { JudgedRun } from '../bench/judgeRun.ts'
import type { Lead, OrderedBend } from '../bench/layOut.ts'
import type { Finding } from '../checks/finding.ts'
import { formatAngle, formatLength, type LengthUnit } from '../document/quantity.ts'
import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { benchRun, firstLead } from './benchLayout.ts'
import { textWidth } from './helvetica.ts'
import { orderOnPaper } from './orderOnPaper.ts'
import { OutputError } from './outputError.ts'
import { GREY, line, PALE, type PaperItem, type PaperPage, rectangle, words } from './paper.ts'
import { runCode } from './runCode.ts'
import { fitted } from './titleBlock.ts'
import { turnWords } from './turnWords.ts'
import { writePdf } from './writePdf.ts'

export interface StripOptions {
  readonly paper?: 'A4' | 'A3' | 'Letter'
  /**
   * The end that leads through all bends, an order, or one that was judged for this run; left out, the order that the
   * checks looked at ({@link orderOnPaper}).
   */
  readonly order?: Lead | readonly OrderedBend[] | JudgedRun | undefined
  readonly unit?: LengthUnit
  /** Findings of the document, or null when the checks were not run. Default null. */
  readonly findings?: readonly Finding[] | null
  /** 'lay': a band to lay along the stock; 'wrap': as wide as the tube is round, so that each mark closes to a ring. */
  readonly form?: 'lay' | 'wrap'
  /** What the printed 100 mm bars measure on this printer, mm: everything is stretched so that they come out at 100. */
  readonly measured?: { readonly x: number; readonly y: number }
  /** ISO 8601. */
  readonly date: string
}

/** Lying: width and height, mm. */
const SIZES = { A4: [297, 210], A3: [420, 297], Letter: [279.4, 215.9] } as const
const LEFT = 12
const TOP = 26
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

/** Printers that are further off than this are set to fit the page: that is to be put right at the printer. */
const FURTHEST = 0.05

/**
 * The unrolled stock at 1:1 with a line at every mark, in strips across as many pages as it takes. Distances are from
 * the leading end's cut. Joining lines: the next strip's head lies on this strip's joining line of the same letter.
 *
 * @throws OutputError when the run has no layout (no bender, no tooling), or a measured bar is no plausible figure.
 */
export function stripPages(document: SkidDocument, solved: SolvedRun, options: StripOptions): PaperPage[] {
  const { paper = 'A4', unit = 'mm', form = 'lay', measured = { x: CHECK_BAR, y: CHECK_BAR } } = options
  for (const axis of ['x', 'y'] as const)
    if (!(Math.abs(measured[axis] / CHECK_BAR - 1) <= FURTHEST))
      throw new OutputError(
        `strip: measured ${axis} bar`,
        `${measured[axis]} mm`,
        `${CHECK_BAR * (1 - FURTHEST)} to ${CHECK_BAR * (1 + FURTHEST)} mm: beyond that, print without fitting to the page`,
      )
  const { order } = orderOnPaper(document, solved, options.findings ?? null, options.order)
  const bench = benchRun(document, solved, order)
  const { layout, run } = bench
  if (!layout)
    throw new OutputError(
      `strip of run ${run.tag}`,
      bench.bender ? 'no tooling for its OD and CLR' : 'no bender',
      'a bender with tooling: the marks depend on it',
    )
  const lead = firstLead(layout)
  // All on one stock: what is measured from the other end is turned over.
  const steps = layout.steps.map(s =>
    s.lead === lead
      ? s
      : {
          ...s,
          start: layout.cutLength - s.start - s.stockUsed,
          mark: layout.cutLength - s.mark,
        },
  )
  const kx = CHECK_BAR / measured.x
  const ky = CHECK_BAR / measured.y
  const [width, height] = SIZES[paper]
  const band = form === 'wrap' ? Math.PI * run.tube.od : BAND
  // Whole centimetres of stock to a strip, so that the ticks come out even.
  const each = Math.floor((width - LEFT - RIGHT - TAB) / kx / 10) * 10
  const rowHeight = band + BETWEEN
  const rows = Math.floor((height - TOP - FOOT) / ky / rowHeight)
  if (rows < 1)
    throw new OutputError(
      `strip of run ${run.tag}`,
      `a tube ${band.toFixed(0)} mm round`,
      'a smaller tube, larger paper, or the form to lay along',
    )
  const total = layout.cutLength
  const strips = Math.max(1, Math.ceil(total / each - 1e-9))
  const pages = Math.ceil(strips / rows)
  const length = (mm: number) =>
    formatLength(mm, unit, unit === 'mm' ? { digits: 1, fixed: true } : { digits: 3 })
  const far = lead === 'A' ? 'B' : 'A'

  return Array.from({ length: pages }, (_, page): PaperPage => {
    const items: PaperItem[] = []
    const head = fitted(`${run.tag}   marking strip 1:1   from end ${lead}`, 160, 4.4)
    items.push(words(LEFT, 11, head.text, head.size, { bold: true }))
    items.push(
      words(
        LEFT,
        16,
        `cut length ${length(total)} ${unit === 'mm' ? 'mm' : 'in'}   code ${runCode(bench, solved)}   page ${page + 1} / ${pages}   ${options.date.slice(0, 10)}`,
        2.8,
      ),
      words(
        LEFT,
        20.5,
        'Print at 100 %, not fitted to the page. Both bars must measure 100 mm; if not, give what they measure and print again.',
        2.8,
      ),
    )
    // Check bars: X along the head, Y up the right side.
    const barX = width - RIGHT - CHECK_BAR * kx
    const barY = 14
    items.push(line(barX, barY, barX + CHECK_BAR * kx, barY, 0.25))
    for (const x of [barX, barX + CHECK_BAR * kx]) items.push(line(x, barY - 2, x, barY + 2, 0.25))
    items.push(words(barX + (CHECK_BAR * kx) / 2, barY - 1.2, 'X: 100 mm', 2.6, { anchor: 'middle' }))
    const upX = width - 10
    const upY = TOP + 12
    items.push(line(upX, upY, upX, upY + CHECK_BAR * ky, 0.25))
    for (const y of [upY, upY + CHECK_BAR * ky]) items.push(line(upX - 2, y, upX + 2, y, 0.25))
    items.push(words(upX - 1.4, upY + (CHECK_BAR * ky) / 2, 'Y: 100 mm', 2.6, { anchor: 'middle', turn: 90 }))

    for (let row = 0; row < rows; row++) {
      const strip = page * rows + row
      if (strip >= strips) break
      const y = TOP + row * rowHeight * ky
      const from = strip * each
      const last = strip === strips - 1
      const stop = last ? total : from + each + TAB / kx
      const at = (mm: number) => LEFT + (mm - from) * kx
      const low = y + band * ky
      for (const s of steps) {
        const [a, b] = [Math.max(from, s.start), Math.min(stop, s.start + s.stockUsed)]
        if (b > a) items.push(rectangle({ x: at(a), y, w: (b - a) * kx, h: band * ky }, { fill: PALE }))
      }
      items.push(line(at(from), y, at(stop), y, 0.13), line(at(from), low, at(stop), low, 0.13))
      for (let mm = Math.ceil(from / 10) * 10; mm <= stop + 1e-9; mm += 10) {
        const long = mm % 50 === 0
        items.push(line(at(mm), low, at(mm), low - (long ? 3 : 1.6), 0.1, GREY))
        if (long && mm > from && mm < stop - 4)
          items.push(words(at(mm), low + 2.6, String(mm), 2.2, { anchor: 'middle', ink: GREY }))
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
      for (const s of steps) {
        if (!(s.mark >= from && s.mark <= stop)) continue
        items.push(line(at(s.mark), y, at(s.mark), low, MARK_WIDTH))
        if (s.mark > from + each && !last) continue
        const text = `BEND ${s.bend + 1}   ${length(s.mark)}${s.lead === lead ? '' : `   (end ${s.lead} leads)`}`
        const what = `${turnWords(s.turn)}; dial ${s.dial === null ? 'by trial' : `${formatAngle(s.dial, 1, true)}°`}`
        const w = Math.max(textWidth(text, 2.8, true), textWidth(what, 2.4))
        const side = at(s.mark) + w + 2 > width - RIGHT ? -1 : 1
        const anchor = side > 0 ? ('start' as const) : ('end' as const)
        items.push(words(at(s.mark) + side * 1.2, y + 4, text, 2.8, { bold: true, anchor }))
        items.push(words(at(s.mark) + side * 1.2, y + 7.6, what, 2.4, { anchor }))
      }
    }
    return { width, height, items }
  })
}

const joinName = (join: number): string =>
  `${String.fromCharCode(97 + (join % 26))}${join >= 26 ? Math.floor(join / 26) : ''}`

/** The strip as a PDF that asks the printer not to scale. */
export const stripPdf = (document: SkidDocument, solved: SolvedRun, options: StripOptions): Uint8Array =>
  writePdf(stripPages(document, solved, options), {
    title: `Marking strip ${solved.tag}`,
    author: '',
    date: options.date,
    noScaling: true,
  })
