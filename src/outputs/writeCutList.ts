import { materialOf } from '../catalogue/materials.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import { csvLines } from './csvCell.ts'
import type { CutGroup, CutList, CutPiece } from './cutList.ts'
import { type RunState, stateLine } from './releaseState.ts'

/** The usual cautions at the saw (common practice, no source). */
export const SAW_CARE: readonly string[] = [
  'Eye protection on; hands clear of the blade; clamp the bar before you cut.',
  'Mark each piece with its run and deburr both ends. Check the length before it is bent.',
  'Local codes, the saw’s instructions and licensed practice take precedence over anything shown here.',
]

const mm = (x: number) => x.toFixed(1)

export const tubeName = (g: CutGroup) =>
  `tube ${tubeSizeText(g, 'mm')}, ${materialOf(g.material)?.name ?? g.material}`

export const piecesInWords = (n: number): string => `${n} piece${n === 1 ? '' : 's'}`

/** Whether less stock could do, in one plain sentence. */
export const provenSentence = (g: CutGroup): string =>
  g.proven
    ? 'no cut list opens less new stock'
    : `best found; none can open less than ${mm(g.leastBought)} mm of new stock`

/** Tube opened that ends up as dust, trim and scrap, as a part of all that is opened, 0 … 1. */
export function wasteShare(g: CutGroup): number {
  const used = g.bars.reduce((a, b) => a + b.length, 0)
  return used > 0 ? (used - g.net - g.remnants) / used : 0
}

/** Where the saw's stop stands for a piece: from the bar's end as it comes, trim and all, to the piece's end, mm. */
export const stopAt = (list: Pick<CutList, 'endTrim'>, piece: Pick<CutPiece, 'at' | 'length'>): number =>
  list.endTrim + piece.at + piece.length

/** The runs of a list that are not released, each with why; one line that says so where all are. */
export function stateLines(list: CutList, states: readonly RunState[]): string[] {
  const stateOf = new Map(states.map(s => [s.runId, s]))
  const listed = new Map(list.groups.flatMap(g => g.bars.flatMap(b => b.pieces.map(p => [p.runId, p.tag]))))
  const held = [...listed].flatMap(([runId, tag]) => {
    const state = stateOf.get(runId)
    if (state?.good) return []
    return [`${tag}: ${state ? stateLine(state) : 'NOT RELEASED: the checks were not run'}`]
  })
  return held.length === 0 ? ['No run of this list has an open finding, and every check was run.'] : held
}

/** The cut list as a person at the saw reads it: one line a bar, pieces in the order of cutting. Lengths mm. */
export function cutListText(list: CutList, states: readonly RunState[]): string {
  const out: string[] = [
    `CUT LIST   lengths in mm, kerf ${list.kerf}, end trim ${list.endTrim} off each bar, leftovers of ${list.leastRemnant} or more kept`,
  ]
  for (const g of list.groups) {
    out.push('', tubeName(g))
    out.push(
      `  ${piecesInWords(g.pieces)}, ${mm(g.net)} net; new stock ${mm(g.bought)} (${provenSentence(g)}); kerf ${mm(g.kerf)}, trim ${mm(g.trim)}, scrap ${mm(g.scrap)}, leftovers ${mm(g.remnants)}`,
    )
    g.bars.forEach((b, i) => {
      const pieces = b.pieces.map(p => `${p.tag} ${mm(p.length)}, stop ${mm(stopAt(list, p))}`).join(' | ')
      out.push(
        `  bar ${i + 1}  ${b.stock} ${mm(b.length)}:  ${pieces}  ->  left ${mm(b.left)} ${b.leftIs === 'scrap' ? 'scrap' : 'kept'}`,
      )
    })
  }
  out.push(
    '',
    'Stops are measured from the bar’s raw end, trim included.',
    '',
    'RELEASE STATE',
    ...stateLines(list, states).map(l => `  ${l}`),
    '',
    'CAUTION',
    ...SAW_CARE.map(l => `  ${l}`),
  )
  if (list.leftOut.length > 0) {
    out.push('', 'NOT IN THE LIST')
    for (const l of list.leftOut) out.push(`  ${l.tag}: ${l.reason}`)
  }
  return `${out.join('\n')}\n`
}

/** One line a piece, in the order of cutting, full precision. */
export function cutListCsv(list: CutList, states: readonly RunState[]): string {
  const stateOf = new Map(states.map(s => [s.runId, stateLine(s)]))
  const rows: (string | number | null)[][] = [
    [
      'od mm',
      'wall mm',
      'material',
      'bar',
      'stock',
      'stock length mm',
      'piece',
      'run',
      'cut length mm',
      'from end mm',
      'left on bar mm',
      'left is',
      'stop from bar end mm',
      'release state',
    ],
  ]
  for (const g of list.groups)
    g.bars.forEach((b, i) => {
      b.pieces.forEach((p, k) => {
        const last = k === b.pieces.length - 1
        rows.push([
          g.od,
          g.wall,
          g.material,
          i + 1,
          b.stock,
          b.length,
          k + 1,
          p.tag,
          p.length,
          p.at,
          last ? b.left : null,
          last ? b.leftIs : null,
          stopAt(list, p),
          stateOf.get(p.runId) ?? null,
        ])
      })
    })
  for (const l of list.leftOut)
    rows.push([
      null,
      null,
      null,
      null,
      'not in the list',
      null,
      null,
      l.tag,
      null,
      null,
      null,
      l.reason,
      null,
      null,
    ])
  return csvLines(rows)
}
