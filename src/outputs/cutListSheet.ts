import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { billOfMaterial, materialQuantity } from './billOfMaterial.ts'
import type { CutBar, CutList, CutPiece } from './cutList.ts'
import type { PaperSize } from './fabricationSheet.ts'
import { textWidth } from './helvetica.ts'
import { BLACK, GREY, line, PALE, type PaperItem, type PaperPage, rectangle, words } from './paper.ts'
import { flow, gap, heading, sentences, table, type Unit } from './sheetFlow.ts'
import { fitted } from './titleBlock.ts'
import { piecesInWords, provenSentence, tubeName, wasteShare } from './writeCutList.ts'
import { writePdf } from './writePdf.ts'

export interface CutSheetOptions {
  readonly paper?: PaperSize
  /** ISO 8601. */
  readonly date: string
}

const SIZES: Record<PaperSize, readonly [number, number]> = {
  A4: [210, 297],
  A3: [420, 297],
  Letter: [215.9, 279.4],
}
const EDGE = 12
const BAR = 6

/** The cut list for the saw: each bar drawn with its pieces in the order of cutting, then what to order. mm. */
export function cutListPages(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  list: CutList,
  options: CutSheetOptions,
): PaperPage[] {
  const [width, height] = SIZES[options.paper ?? 'A4']
  const w = width - 2 * EDGE
  const units: Unit[] = [
    ...sentences(
      [
        `Lengths in mm. Kerf ${list.kerf}, end trim ${list.endTrim} off each bar, leftovers from ${list.leastRemnant} kept.`,
        ...(document.invented ? ['Invented demo data: not a real job.'] : []),
      ],
      w,
    ),
  ]
  for (const g of list.groups) {
    units.push(
      gap(2),
      heading(tubeName(g), w),
      ...sentences(
        [
          `${piecesInWords(g.pieces)}, ${g.net.toFixed(1)} net; new stock ${g.bought.toFixed(1)}: ${provenSentence(g)}. Waste ${(100 * wasteShare(g)).toFixed(1)} %: kerf ${g.kerf.toFixed(1)}, trim ${g.trim.toFixed(1)}, scrap ${g.scrap.toFixed(1)}. Leftovers kept ${g.remnants.toFixed(1)}.`,
        ],
        w,
      ),
    )
    const longest = Math.max(...g.bars.map(b => b.length))
    g.bars.forEach((bar, i) => {
      units.push(...barUnits(bar, i + 1, w, longest, list.endTrim))
    })
  }
  if (list.leftOut.length > 0)
    units.push(
      heading('Not in the list', w),
      ...sentences(
        list.leftOut.map(l => `${l.tag}: ${l.reason}`),
        w,
        '!',
      ),
    )
  units.push(
    gap(2),
    heading('Bill of material', w),
    ...table(
      [
        { title: 'Kind', width: w * 0.12 },
        { title: 'Item', width: w * 0.3, bold: true },
        { title: 'Quantity', width: w * 0.1, right: true },
        { title: 'Unit', width: w * 0.07 },
        { title: 'Note', width: w * 0.41 },
      ],
      billOfMaterial(document, solved, list).map(m => [m.kind, m.item, materialQuantity(m), m.unit, m.note]),
    ),
  )
  const columns = flow(units, () => ({ x: EDGE, y: EDGE + 12, w, h: height - 2 * EDGE - 12 }))
  return columns.map((items, p): PaperPage => {
    const name = fitted(`Cut list   ${document.name}`, w - 50, 5)
    const foot = `${options.date.slice(0, 10)}   ${p + 1} / ${columns.length}`
    return {
      width,
      height,
      items: [
        words(EDGE, EDGE + 5, name.text, name.size, { bold: true }),
        words(width - EDGE, EDGE + 5, foot, 3, { anchor: 'end' }),
        line(EDGE, EDGE + 8, width - EDGE, EDGE + 8, 0.4),
        ...items,
      ],
    }
  })
}

/** The bar's line of text and its picture to scale; under it the pieces in full when one has no room for its words. */
function barUnits(bar: CutBar, number: number, w: number, longest: number, trim: number): Unit[] {
  const scale = w / longest
  const left =
    bar.left > 0
      ? `${bar.left.toFixed(1)} left, ${bar.leftIs === 'remnant' ? 'keep' : 'scrap'}`
      : 'nothing left'
  const title = `Bar ${number}   ${bar.remnant ? 'leftover' : 'new'} ${bar.length.toFixed(1)}   ${left}`
  const fits = (text: string, length: number) => textWidth(text, 2.6) < length * scale - 1.5
  const saying = (p: CutPiece) => `${p.tag}  ${p.length.toFixed(1)}`
  const allSaid = bar.pieces.every(p => fits(saying(p), p.length))
  const picture: Unit = {
    height: 6 + BAR + (allSaid ? 0.5 : 1.5),
    keepWithNext: true,
    draw: (x, y) => {
      const top = y + 6
      const items: PaperItem[] = [words(x, y + 4, title, 3, { bold: true })]
      items.push(rectangle({ x, y: top, w: bar.length * scale, h: BAR }, { stroke: GREY, width: 0.18 }))
      const say = (from: number, length: number, text: string) => {
        if (fits(text, length))
          items.push(words(x + (from + length / 2) * scale, top + 3.9, text, 2.6, { anchor: 'middle' }))
      }
      for (const p of bar.pieces) {
        const box = { x: x + (trim + p.at) * scale, y: top, w: p.length * scale, h: BAR }
        items.push(rectangle(box, { fill: PALE, stroke: BLACK, width: 0.18 }))
        say(trim + p.at, p.length, saying(p))
      }
      say(bar.length - bar.left, bar.left, bar.leftIs === 'remnant' ? `keep ${bar.left.toFixed(1)}` : 'scrap')
      return items
    },
  }
  const order = bar.pieces.map(p => `${p.tag} ${p.length.toFixed(1)}`).join('  |  ')
  return [picture, ...(allSaid ? [] : sentences([order], w, '', 2.8)), gap(1.5)]
}

/** The cut list as a PDF; the same list and date give the same bytes. */
export const cutListPdf = (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  list: CutList,
  options: CutSheetOptions,
): Uint8Array =>
  writePdf(cutListPages(document, solved, list, options), {
    title: `Cut list ${document.name}`,
    author: '',
    date: options.date,
  })
