import { massPerMetre, materialOf } from '../catalogue/materials.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { SkidDocument } from '../document/types.ts'
import { overruns } from '../solve/overruns.ts'
import type { SolvedRun } from '../solve/types.ts'
import { benchRun } from './benchLayout.ts'
import { nestOnStock, TooLittleStock } from './nestOnStock.ts'
import { OutputError } from './outputError.ts'

/** Stock lengths in common trade use, mm; which is delivered is the supplier's word. */
export const SIX_METRES = 6000
export const TWENTY_FEET = 6096

/** Pieces of one tube that a cut list is worked out for; more take longer than anyone waits. */
export const MOST_PIECES = 5_000

/** A piece of tube left over from another job. */
export interface Remnant {
  readonly name: string
  readonly od: number
  readonly wall: number
  readonly material: string
  readonly length: number
  readonly count: number
}

/** A length that can be bought, mm, and how many there are; null when there is no end of them. */
export interface StockLength {
  readonly length: number
  readonly count: number | null
}

export interface CutOptions {
  /** What can be bought; the fewest millimetres bought win. Default: 6 m lengths without end. */
  readonly stock?: readonly StockLength[]
  readonly remnants?: readonly Remnant[]
  /** What the saw takes at each cut, mm ≥ 0. Default 2. */
  readonly kerf?: number
  /** Cut off the end of every stock length to have it square, mm ≥ 0. Default 5. */
  readonly endTrim?: number
  /** A leftover this long is kept as a remnant, mm. Default 300. */
  readonly leastRemnant?: number
  readonly mostNodes?: number
  /** Told before each size of tube is nested: how many are done, out of how many. */
  readonly progress?: (done: number, of: number) => void
}

export interface CutPiece {
  readonly runId: string
  readonly tag: string
  readonly length: number
  /** From the stock's squared end to the piece's start, mm. */
  readonly at: number
}
export interface CutBar {
  /** 'stock', or the remnant's name. */
  readonly stock: string
  readonly length: number
  readonly remnant: boolean
  readonly pieces: readonly CutPiece[]
  /** What is left after the last cut, mm ≥ 0. */
  readonly left: number
  readonly leftIs: 'remnant' | 'scrap'
}
export interface CutGroup {
  readonly od: number
  readonly wall: number
  readonly material: string
  readonly bars: readonly CutBar[]
  /** Millimetres of new stock opened, and the least that any cut list could open. */
  readonly bought: number
  readonly leastBought: number
  /** True when no cut list opens less new stock. */
  readonly proven: boolean
  readonly pieces: number
  /** Sum of the cut lengths, mm. */
  readonly net: number
  readonly kerf: number
  readonly trim: number
  readonly scrap: number
  readonly remnants: number
  /** kg of tube in the pieces, or null when the material is not in the table. */
  readonly mass: number | null
}
export interface CutList {
  readonly groups: readonly CutGroup[]
  /** Runs that are not in the list, each with its reason. */
  readonly leftOut: readonly { readonly tag: string; readonly reason: string }[]
  readonly kerf: number
  readonly endTrim: number
  readonly leastRemnant: number
}

/**
 * Every run's cut length, as many times as its quantity, nested on stock by tube size and material, so that the
 * least new stock is opened. Remnants cost nothing. A run without a route is left out by name.
 *
 * @throws OutputError for an option out of range, for a piece longer than every stock length, and for more than
 *   {@link MOST_PIECES} pieces of one tube.
 */
export function cutList(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: CutOptions = {},
): CutList {
  const {
    stock = [{ length: SIX_METRES, count: null }],
    remnants = [],
    kerf = 2,
    endTrim = 5,
    leastRemnant = 300,
  } = options
  for (const [place, value] of Object.entries({ kerf, endTrim, leastRemnant }))
    if (!(Number.isFinite(value) && value >= 0))
      throw new OutputError(`cut list: ${place}`, `${value}`, '0 mm or more')
  if (stock.length + remnants.length === 0)
    throw new OutputError('cut list: stock lengths', 'none', 'at least one')
  for (const { length } of [...stock, ...remnants])
    if (!(Number.isFinite(length) && length > endTrim))
      throw new OutputError(
        'cut list: stock length',
        `${length} mm`,
        `more than the end trim of ${endTrim} mm`,
      )
  for (const { place, count } of [
    ...stock.map(s => ({ place: `stock of ${s.length} mm`, count: s.count })),
    ...remnants.map(r => ({ place: `remnant ${r.name}`, count: r.count })),
  ])
    if (count !== null && !(Number.isInteger(count) && count >= 0))
      throw new OutputError(`cut list: ${place}`, `a count of ${count}`, 'a whole number, 0 or more')

  const leftOut: { tag: string; reason: string }[] = []
  const wanted = new Map<string, { runId: string; tag: string; length: number }[]>()
  const tubes = new Map<string, { od: number; wall: number; material: string }>()
  const counts = new Map<string, number>()
  for (const s of solved) {
    if (s.route === null) {
      leftOut.push({ tag: s.tag, reason: s.problem?.message ?? 'no route' })
      continue
    }
    if (overruns(s.route).length > 0) {
      leftOut.push({ tag: s.tag, reason: 'a straight is too short for its bends: it cannot be made' })
      continue
    }
    const { run, cutLength } = benchRun(document, s)
    const key = tubeKey(run.tube)
    tubes.set(key, run.tube)
    const pieces = wanted.get(key) ?? []
    counts.set(key, (counts.get(key) ?? 0) + run.quantity)
    if (counts.get(key)! > MOST_PIECES) continue
    for (let i = 0; i < run.quantity; i++) pieces.push({ runId: run.id, tag: run.tag, length: cutLength })
    wanted.set(key, pieces)
  }

  for (const [key, count] of counts)
    if (count > MOST_PIECES)
      throw new OutputError(
        `cut list: tube ${tubeSizeText(tubes.get(key)!, 'mm')}, ${tubes.get(key)!.material}`,
        `${count.toLocaleString('en-GB')} pieces`,
        `at most ${MOST_PIECES.toLocaleString('en-GB')} of one tube: lower the quantities of its runs`,
      )

  const groups = [...wanted].map(([key, pieces], done): CutGroup => {
    options.progress?.(done, wanted.size)
    const tube = tubes.get(key)!
    const kinds = [
      ...remnants
        .filter(r => tubeKey(r) === key && r.count > 0)
        .map(r => ({ name: r.name, length: r.length, remnant: true, count: r.count as number | null })),
      ...stock
        .filter(s => s.count !== 0)
        .map(s => ({ name: 'stock', length: s.length, remnant: false, count: s.count })),
    ]
    const longest = Math.max(0, ...kinds.map(k => k.length - endTrim))
    for (const p of pieces)
      if (p.length > longest + 1e-9)
        throw new OutputError(
          `cut list: run ${p.tag}`,
          `a cut length of ${p.length.toFixed(1)} mm`,
          `at most ${longest} mm, the longest stock less its end trim`,
        )
    // Each piece takes its kerf with it; the last one on a bar needs none, so the bar has one kerf more room.
    const nesting = nested(tube, pieces, kinds, { kerf, endTrim, mostNodes: options.mostNodes })
    let cuts = 0
    const bars = nesting.bars.map(({ kind, pieces: which }): CutBar => {
      const { name, length, remnant } = kinds[kind]!
      let at = 0
      const cut = which
        .map(i => pieces[i]!)
        .sort((a, b) => b.length - a.length || (a.tag < b.tag ? -1 : a.tag > b.tag ? 1 : 0))
        .map((p): CutPiece => {
          const piece = { ...p, at }
          at += p.length + kerf
          return piece
        })
      const end = at - kerf
      const rest = length - endTrim - end
      // A rest thinner than the blade is turned to dust by the last cut.
      const left = Math.max(0, rest - kerf)
      cuts += (cut.length - 1) * kerf + Math.min(rest, kerf)
      return {
        stock: name,
        length,
        remnant,
        pieces: cut,
        left,
        leftIs: left >= leastRemnant && left > 0 ? 'remnant' : 'scrap',
      }
    })
    const sum = (f: (b: CutBar) => number) => bars.reduce((a, b) => a + f(b), 0)
    const net = pieces.reduce((a, p) => a + p.length, 0)
    const material = materialOf(tube.material)
    return {
      od: tube.od,
      wall: tube.wall,
      material: tube.material,
      bars,
      bought: nesting.cost,
      leastBought: nesting.bound,
      proven: nesting.proven,
      pieces: pieces.length,
      net,
      kerf: cuts,
      trim: bars.length * endTrim,
      scrap: sum(b => (b.leftIs === 'scrap' ? b.left : 0)),
      remnants: sum(b => (b.leftIs === 'remnant' ? b.left : 0)),
      mass: material && (massPerMetre(tube.od, tube.wall, material) * net) / 1000,
    }
  })
  return { groups, leftOut, kerf, endTrim, leastRemnant }
}

/** @throws OutputError when the limited stock does not hold all pieces. */
function nested(
  tube: { readonly od: number; readonly wall: number; readonly material: string },
  pieces: readonly { readonly length: number }[],
  kinds: readonly { readonly length: number; readonly remnant: boolean; readonly count: number | null }[],
  { kerf, endTrim, mostNodes }: { kerf: number; endTrim: number; mostNodes: number | undefined },
) {
  try {
    return nestOnStock(
      pieces.map(p => p.length + kerf),
      kinds.map(k => ({ room: k.length - endTrim + kerf, cost: k.remnant ? 0 : k.length, count: k.count })),
      mostNodes,
    )
  } catch (error) {
    if (!(error instanceof TooLittleStock)) throw error
    const there = kinds.reduce((a, k) => a + k.length * (k.count ?? Number.POSITIVE_INFINITY), 0)
    const all = pieces.reduce((a, p) => a + p.length, 0)
    throw new OutputError(
      `cut list: tube ${tubeSizeText(tube, 'mm')}, ${tube.material}`,
      `${pieces.length} pieces, ${all.toFixed(1)} mm with no kerf, for ${there.toFixed(1)} mm of stock`,
      'stock that holds them all: more lengths, or one without end',
    )
  }
}

const tubeKey = (t: { od: number; wall: number; material: string }) =>
  `${Math.round(t.od * 1000)}|${Math.round(t.wall * 1000)}|${t.material}`
