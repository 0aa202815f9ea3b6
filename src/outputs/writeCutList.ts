import { materialOf } from '../catalogue/materials.ts'
import { fittingOf } from '../document/lookUp.ts'
import type { SkidDocument } from '../document/types.ts'
import { csvLines } from './csvCell.ts'
import type { CutGroup, CutList } from './cutList.ts'

const mm = (x: number) => x.toFixed(1)

export const tubeName = (g: CutGroup) =>
  `tube ${Number(g.od.toFixed(3))} x ${Number(g.wall.toFixed(3))} mm, ${materialOf(g.material)?.name ?? g.material}`

/** Whether less stock could do, in one plain sentence. */
export const provenSentence = (g: CutGroup): string =>
  g.proven
    ? 'no cut list opens less new stock'
    : `best found; none can open less than ${mm(g.leastBought)} mm of new stock`

/** The cut list as a person at the saw reads it: one line a bar, pieces in the order of cutting. Lengths mm. */
export function cutListText(list: CutList): string {
  const out: string[] = [
    `CUT LIST   lengths in mm, kerf ${list.kerf}, end trim ${list.endTrim} off each bar, leftovers from ${list.leastRemnant} kept`,
  ]
  for (const g of list.groups) {
    out.push('', tubeName(g))
    out.push(
      `  ${g.pieces} pieces, ${mm(g.net)} net; new stock ${mm(g.bought)} (${provenSentence(g)}); kerf ${mm(g.kerf)}, trim ${mm(g.trim)}, scrap ${mm(g.scrap)}, remnants ${mm(g.remnants)}`,
    )
    g.bars.forEach((b, i) => {
      const pieces = b.pieces.map(p => `${p.tag} ${mm(p.length)}`).join(' | ')
      out.push(`  bar ${i + 1}  ${b.stock} ${mm(b.length)}:  ${pieces}  ->  left ${mm(b.left)} ${b.leftIs}`)
    })
  }
  if (list.leftOut.length > 0) {
    out.push('', 'NOT IN THE LIST')
    for (const l of list.leftOut) out.push(`  ${l.tag}: ${l.reason}`)
  }
  return `${out.join('\n')}\n`
}

/** One line a piece, in the order of cutting, full precision. */
export function cutListCsv(list: CutList): string {
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
        ])
      })
    })
  for (const l of list.leftOut)
    rows.push([null, null, null, null, 'not in the list', null, null, l.tag, null, null, null, l.reason])
  return csvLines(rows)
}

export interface MaterialLine {
  readonly item: string
  readonly quantity: number
  readonly unit: 'm' | 'each'
  readonly note: string
}

/**
 * What to order: tube by size with its waste, and the fittings that the runs end in. Quantities as the runs', so
 * a run made three times wants its fittings three times.
 */
export function billOfMaterial(document: SkidDocument, list: CutList): MaterialLine[] {
  const lines: MaterialLine[] = list.groups.map(g => {
    const used = g.bars.reduce((a, b) => a + b.length, 0)
    const waste = used - g.net - g.remnants
    const mass = g.mass === null ? '' : `; ${g.mass.toFixed(2)} kg in the pieces`
    return {
      item: tubeName(g),
      quantity: g.bought / 1000,
      unit: 'm',
      note: `${g.bars.filter(b => !b.remnant).length} new lengths, ${g.bars.filter(b => b.remnant).length} remnants; ${(g.net / 1000).toFixed(3)} m net, waste ${(waste / 1000).toFixed(3)} m (${((100 * waste) / used).toFixed(1)} %)${mass}`,
    }
  })
  const fittings = new Map<string, { name: string; count: number; used: Set<string> }>()
  for (const run of document.runs)
    for (const end of [run.endA, run.endB]) {
      const f = fittingOf(document, end)
      if (!f) continue
      const key = f.catalogueId ?? `the document's own: ${f.name}`
      const entry = fittings.get(key) ?? { name: f.catalogueId ?? f.name, count: 0, used: new Set<string>() }
      entry.count += run.quantity
      entry.used.add(`${run.tag} at ${f.name}`)
      fittings.set(key, entry)
    }
  for (const { name, count, used } of fittings.values())
    lines.push({ item: `tube end at ${name}`, quantity: count, unit: 'each', note: [...used].join('; ') })
  return lines
}

export const billOfMaterialCsv = (lines: readonly MaterialLine[]): string =>
  csvLines([['item', 'quantity', 'unit', 'note'], ...lines.map(l => [l.item, l.quantity, l.unit, l.note])])
