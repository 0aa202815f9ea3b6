import { fittingKind } from '../catalogue/fittingKinds.ts'
import { fittingOf, fittingsById, runOf } from '../document/lookUp.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { Fitting, Run, SkidDocument } from '../document/types.ts'
import { insulationCutBack, sleeveOf } from '../skid/insulation.ts'
import type { SolvedRun } from '../solve/types.ts'
import { csvLines } from './csvCell.ts'
import type { CutList } from './cutList.ts'
import { tubeName } from './writeCutList.ts'

export type MaterialKind = 'tube' | 'fitting' | 'support' | 'insulation' | 'unused fitting'

export interface MaterialLine {
  readonly kind: MaterialKind
  readonly item: string
  readonly quantity: number
  readonly unit: 'm' | 'each'
  readonly note: string
  /** Of tube: in the pieces, lost to saw, trim and scrap, and left as remnants, mm; null for what is no tube. */
  readonly tube: { readonly net: number; readonly waste: number; readonly left: number } | null
  /** Of tube: what is opened, new lengths and remnants. */
  readonly stock: readonly { readonly length: number; readonly count: number; readonly remnant: boolean }[]
}

/**
 * What these runs take: tube by size and material with what is opened and lost; ports by their kind's name, or by their
 * own when they are of none; supports by type; insulation by tube and thickness. A run made three times takes its ports and
 * supports three times, a port that two runs end in counts once. When the runs are all of the document, ports that no
 * run ends in are listed apart.
 */
export function billOfMaterial(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  list: CutList,
): MaterialLine[] {
  const runs = solved.flatMap(s => runOf(document, s.runId) ?? [])
  return [
    ...tubeLines(list),
    ...portLines(document, runs),
    ...supportLines(document, runs),
    ...insulationLines(document, solved, runs),
    ...(runs.length === document.runs.length ? unusedLines(document) : []),
  ]
}

const plain = { tube: null, stock: [] }

function tubeLines(list: CutList): MaterialLine[] {
  return list.groups.map(g => {
    const used = g.bars.reduce((a, b) => a + b.length, 0)
    const waste = used - g.net - g.remnants
    const stock: { length: number; count: number; remnant: boolean }[] = []
    for (const b of g.bars) {
      const same = stock.find(s => s.length === b.length && s.remnant === b.remnant)
      if (same) same.count++
      else stock.push({ length: b.length, count: 1, remnant: b.remnant })
    }
    const opened = stock.map(
      s => `${s.count} × ${Number(s.length.toFixed(1))} mm${s.remnant ? ' leftover' : ''}`,
    )
    const mass = g.mass === null ? '' : `; ${g.mass.toFixed(2)} kg in the pieces`
    return {
      kind: 'tube',
      item: tubeName(g),
      quantity: g.bought / 1000,
      unit: 'm',
      note: `${opened.join(', ')}; ${(g.net / 1000).toFixed(3)} m net, waste ${(waste / 1000).toFixed(3)} m (${((100 * waste) / used).toFixed(1)} %)${mass}`,
      tube: { net: g.net, waste, left: g.remnants },
      stock,
    }
  })
}

/** What is counted together, and the words that say where it goes. */
function tally() {
  const found = new Map<string, { quantity: number; where: Set<string> }>()
  return {
    add(item: string, quantity: number, where: string) {
      const entry = found.get(item) ?? { quantity: 0, where: new Set<string>() }
      entry.quantity += quantity
      entry.where.add(where)
      found.set(item, entry)
    },
    lines: (kind: MaterialKind, unit: 'm' | 'each'): MaterialLine[] =>
      [...found].map(([item, { quantity, where }]) => ({
        kind,
        item,
        quantity,
        unit,
        note: [...where].join('; '),
        ...plain,
      })),
  }
}

/** What the store calls it: the kind's name in the table; a port of one's own goes by its own. */
const portItem = (f: Fitting) => (f.catalogueId === null ? null : fittingKind(f.catalogueId)?.name) ?? f.name

function portLines(document: SkidDocument, runs: readonly Run[]): MaterialLine[] {
  const used = new Map<string, { fitting: Fitting; quantity: number; tags: string[] }>()
  for (const run of runs)
    for (const end of [run.endA, run.endB]) {
      const fitting = fittingOf(document, end)
      if (!fitting) continue
      const entry = used.get(fitting.id)
      if (!entry) used.set(fitting.id, { fitting, quantity: run.quantity, tags: [run.tag] })
      else {
        entry.quantity = Math.max(entry.quantity, run.quantity)
        if (!entry.tags.includes(run.tag)) entry.tags.push(run.tag)
      }
    }
  const counted = tally()
  for (const { fitting, quantity, tags } of used.values()) {
    // A port is often named after its run: then the name alone says whose it is.
    const saysRun = tags.length === 1 && fitting.name.startsWith(`${tags[0]} `)
    counted.add(portItem(fitting), quantity, saysRun ? fitting.name : `${tags.join(', ')} at ${fitting.name}`)
  }
  return counted.lines('fitting', 'each')
}

function unusedLines(document: SkidDocument): MaterialLine[] {
  const used = new Set(
    document.runs.flatMap(r => [r.endA, r.endB].flatMap(e => (e.kind === 'port' ? [e.fitting] : []))),
  )
  const counted = tally()
  for (const f of document.fittings)
    if (!used.has(f.id)) counted.add(portItem(f), 1, `${f.name}: no run ends in it`)
  return counted.lines('unused fitting', 'each')
}

function supportLines(document: SkidDocument, runs: readonly Run[]): MaterialLine[] {
  const counted = tally()
  for (const run of runs)
    for (const s of document.supports)
      if (s.run === run.id) counted.add(s.type, run.quantity, `${run.tag}: ${s.name}`)
  return counted.lines('support', 'each')
}

function insulationLines(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  runs: readonly Run[],
): MaterialLine[] {
  const fittings = fittingsById(document.fittings)
  const counted = tally()
  const lengths = new Map(solved.map(s => [s.runId, s.route?.developedLength ?? null]))
  for (const run of runs) {
    const length = lengths.get(run.id) ?? null
    if (run.insulation <= 0) continue
    const sleeve = sleeveOf(insulationCutBack(run, fittings), length ?? 0)
    const item = `insulation ${Number(run.insulation.toFixed(2))} mm thick on tube ${tubeSizeText(run.tube, 'mm')}`
    counted.add(
      item,
      ((sleeve ? sleeve.to - sleeve.from : 0) * run.quantity) / 1000,
      length === null ? `${run.tag} is not included: it has no route` : run.tag,
    )
  }
  return counted.lines('insulation', 'm')
}

/** How much of it, as a person writes it: metres to the millimetre, or pieces. */
export const materialQuantity = (m: MaterialLine): string =>
  m.unit === 'm' ? m.quantity.toFixed(3) : String(m.quantity)

/** One line each, full precision; stock as `count x length` with a blank between two. */
export const billOfMaterialCsv = (lines: readonly MaterialLine[]): string =>
  csvLines([
    ['kind', 'item', 'quantity', 'unit', 'net mm', 'waste mm', 'left mm', 'stock mm', 'note'],
    ...lines.map(l => [
      l.kind,
      l.item,
      l.quantity,
      l.unit,
      l.tube?.net ?? null,
      l.tube?.waste ?? null,
      l.tube?.left ?? null,
      l.stock.map(s => `${s.count}x${s.length}${s.remnant ? ' leftover' : ''}`).join(' ') || null,
      l.note,
    ]),
  ])
