import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { SolvedRun } from '../solve/types.ts'
import { billOfMaterial, materialQuantity } from './billOfMaterial.ts'
import type { CutBar, CutList } from './cutList.ts'
import type { PaperSize } from './fabricationSheet.ts'
import { BLACK, GREY, line, PALE, type PaperItem, type PaperPage, RED, rectangle, words } from './paper.ts'
import { textWidth } from './paperFont.ts'
import { runStates } from './releaseState.ts'
import { flow, gap, heading, sentences, table, type Unit } from './sheetFlow.ts'
import { fontCaution } from './sheetText.ts'
import { fitted } from './titleBlock.ts'
import {
  piecesInWords,
  provenSentence,
  SAW_CARE,
  stateLines,
  stopAt,
  tubeName,
  wasteShare,
} from './writeCutList.ts'
import { writePdf } from './writePdf.ts'

export interface CutSheetOptions {
  /** Findings of the whole document, or null when the checks were not run: the list then says so. */
  readonly findings: readonly Finding[] | null
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
        `Lengths in mm. Kerf ${list.kerf}, end trim ${list.endTrim} off each bar, leftovers of ${list.leastRemnant} or more kept. A stop is measured from the bar’s raw end, trim included, to the end of the piece. Hatched: trim.`,
        ...(document.invented ? ['Invented demo data: not a real job.'] : []),
      ],
      w,
    ),
  ]
  const material = billOfMaterial(document, solved, list)
  units.push(
    ...sentences(
      fontCaution([
        document.name,
        ...document.runs.flatMap(r => [r.tag, r.tube.material]),
        ...material.flatMap(m => [m.item, m.note]),
      ]),
      w,
      '!',
    ),
  )
  const states = runStates(document, solved, options.findings)
  const lines = stateLines(list, states)
  const held = new Set(states.filter(s => s.held).map(s => s.runId))
  const allGood = states.every(s => s.good)
  units.push(
    heading('Release state', w),
    ...sentences(lines, w, allGood ? '•' : '!'),
    ...sentences(SAW_CARE, w, '!'),
  )
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
      units.push(...barUnits(bar, i + 1, w, longest, list, held, tubeName(g)))
    })
  }
  units.push(...leftoverLabels(list, w))
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
      material.map(m => [m.kind, m.item, materialQuantity(m), m.unit, m.note]),
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

/** Pieces beside one another under a bar, and the height of a line of them, mm. */
const ACROSS = 3
const LINE = 4.6

/** A bar to tick off: its line of text, its picture to scale, and each piece with its length and stop. */
function barUnits(
  bar: CutBar,
  number: number,
  w: number,
  longest: number,
  list: CutList,
  held: ReadonlySet<string>,
  tube: string,
): Unit[] {
  const trim = list.endTrim
  const scale = w / longest
  const left =
    bar.left > 0
      ? `${bar.left.toFixed(1)} left, ${bar.leftIs === 'remnant' ? 'keep' : 'scrap'}`
      : 'nothing left'
  const title = `Bar ${number}   ${bar.remnant ? 'leftover' : 'new'} ${bar.length.toFixed(1)}   ${left}`
  const picture: Unit = {
    height: 6.5 + BAR,
    keepWithNext: true,
    draw: (x, y) => {
      const top = y + 6
      const items: PaperItem[] = [tick(x, y + 1.6), words(x + 4.2, y + 4, title, 3, { bold: true })]
      items.push(rectangle({ x, y: top, w: bar.length * scale, h: BAR }, { stroke: GREY, width: 0.18 }))
      items.push(...hatched(x, top, trim * scale))
      const say = (from: number, length: number, texts: readonly string[], bold = false) => {
        const text = texts.find(t => textWidth(t, 2.6, bold) < length * scale - 1.5)
        if (text !== undefined)
          items.push(words(x + (from + length / 2) * scale, top + 3.9, text, 2.6, { anchor: 'middle', bold }))
      }
      for (const p of bar.pieces) {
        const box = { x: x + (trim + p.at) * scale, y: top, w: p.length * scale, h: BAR }
        items.push(rectangle(box, { fill: PALE, stroke: BLACK, width: 0.18 }))
        say(trim + p.at, p.length, [`${p.tag}  ${p.length.toFixed(1)}`, p.tag])
      }
      say(
        bar.length - bar.left,
        bar.left,
        bar.leftIs === 'remnant' ? [`keep ${bar.left.toFixed(1)}`, 'keep'] : ['scrap'],
        bar.leftIs === 'remnant',
      )
      return items
    },
  }
  const rows = Array.from({ length: Math.ceil(bar.pieces.length / ACROSS) }, (_, row): Unit => {
    const pieces = bar.pieces.slice(row * ACROSS, (row + 1) * ACROSS)
    return {
      height: LINE,
      keepWithNext: (row + 1) * ACROSS < bar.pieces.length && row < 2,
      draw: (x, y) =>
        pieces.flatMap((p, k) => {
          const at = x + (k * w) / ACROSS
          const room = w / ACROSS - 6
          const figures = `${p.length.toFixed(1)}   stop ${stopAt(list, p).toFixed(1)}`
          const name = fitted(
            `${p.tag}${held.has(p.runId) ? ' (not released)' : ''}`,
            room - textWidth(`   ${figures}`, 2.8),
            2.8,
          )
          return [
            tick(at, y + 0.9),
            words(at + 4.2, y + 3.2, name.text, name.size, {
              bold: true,
              ink: held.has(p.runId) ? RED : BLACK,
            }),
            words(at + w / ACROSS - 2, y + 3.2, figures, 2.8, { anchor: 'end' }),
          ]
        }),
    }
  })
  const label =
    bar.leftIs === 'remnant' && bar.left > 0
      ? sentences([`Label the leftover: ${tube}, ${bar.left.toFixed(1)} mm.`], w, 'box', 2.8)
      : []
  return [picture, ...rows, ...label, gap(1.5)]
}

const tick = (x: number, y: number) => rectangle({ x, y, w: 2.6, h: 2.6 }, { stroke: BLACK, width: 0.18 })

/** The trim, from the bar's end; too thin to be hatched it is filled. */
function hatched(x: number, y: number, width: number): PaperItem[] {
  if (width <= 0) return []
  const edge = line(x + width, y, x + width, y + BAR, 0.18)
  if (width < 0.8) return [rectangle({ x, y, w: width, h: BAR }, { fill: GREY }), edge]
  const lines: PaperItem[] = []
  for (let d = 0.8; d < width + BAR; d += 0.8) {
    const [x1, y1] = d <= BAR ? [x, y + d] : [x + d - BAR, y + BAR]
    const [x2, y2] = d <= width ? [x + d, y] : [x + width, y + d - width]
    if (x1 < x + width) lines.push(line(x1, y1, x2, y2, 0.1, GREY))
  }
  return [...lines, edge]
}

/** A label for each leftover that is kept, to cut out or copy. */
function leftoverLabels(list: CutList, w: number): Unit[] {
  const kept = list.groups.flatMap(g =>
    g.bars.flatMap((b, i) =>
      b.leftIs === 'remnant' && b.left > 0 ? [{ group: g, bar: b, number: i + 1 }] : [],
    ),
  )
  if (kept.length === 0) return []
  const cell = w / ACROSS
  const rows = Array.from({ length: Math.ceil(kept.length / ACROSS) }, (_, row): Unit => {
    const own = kept.slice(row * ACROSS, (row + 1) * ACROSS)
    return {
      height: 16,
      draw: (x, y) =>
        own.flatMap(({ group, bar, number }, k) => {
          const at = x + k * cell
          const length = fitted(`${bar.left.toFixed(1)} mm`, cell - 8, 5, 2)
          const tube = fitted(tubeName(group), cell - 6, 2.8, 1.7)
          return [
            rectangle({ x: at, y: y + 1, w: cell - 3, h: 14 }, { stroke: GREY, width: 0.18, dash: [1.5, 1] }),
            words(at + 2, y + 6.6, length.text, length.size, { bold: true }),
            words(at + 2, y + 10.4, tube.text, tube.size),
            words(at + 2, y + 13.6, `leftover of bar ${number}`, 2.3, { ink: GREY }),
          ]
        }),
    }
  })
  return [gap(2), heading('Labels for the leftovers', w), ...rows]
}

/** The cut list as a PDF; the same list and date give the same bytes. */
export const cutListPdf = async (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  list: CutList,
  options: CutSheetOptions,
): Promise<Uint8Array> =>
  writePdf(cutListPages(document, solved, list, options), {
    title: `Cut list ${document.name}`,
    author: '',
    date: options.date,
  })
