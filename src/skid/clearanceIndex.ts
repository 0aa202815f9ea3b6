import { fittingsById } from '../document/lookUp.ts'
import type { SkidDocument } from '../document/types.ts'
import { type Bounds, BoxTree, boundsMeet } from '../geometry/boxTree.ts'
import type { Gap } from '../geometry/sweptGap.ts'
import type { SolvedRun } from '../solve/types.ts'
import { placements } from './models/placedTubes.ts'
import { partGap } from './partGap.ts'
import {
  type MeshBody,
  meshKey,
  meshPart,
  type Part,
  runKey,
  solidKey,
  solidPart,
  type TubePart,
  tubePart,
  type Unmeasured,
} from './parts.ts'

/** A measured pair of parts; `a` is always a run, `b` a run of a later key, a solid, a mesh, or `a` itself. */
export interface MeasuredPair {
  readonly a: TubePart
  readonly b: Part
  readonly gap: Gap
}

/** Pairs measured, of the pairs to be measured. */
export interface Progress {
  readonly done: number
  readonly total: number
}

export interface ClearanceIndex {
  readonly within: number
  /** Brings the index to this document; only what has another outside is measured again. Gives the pairs measured. */
  update(document: SkidDocument, solvedRuns: readonly SolvedRun[], meshes?: readonly MeshBody[]): number
  /**
   * The same in steps, to be drawn until done: after each pair, how many are measured of how many. It may be left off
   * at any step; the next update then does what is missing, and until then there are no pairs to be had.
   */
  updating(
    document: SkidDocument,
    solvedRuns: readonly SolvedRun[],
    meshes?: readonly MeshBody[],
  ): Generator<Progress, number>
  /**
   * Every pair nearer than `within`, mm, in no particular order.
   *
   * @throws Error when the last update was left off.
   */
  pairs(): Iterable<MeasuredPair>
  /** Runs and solids of the document that could not be measured. */
  unmeasured(): readonly Unmeasured[]
}

/**
 * Keeps the least gaps of a document's runs to each other, to themselves and to the solids, below `within` mm.
 * Whatever the history of updates, the pairs are those of a fresh index, to the last digit.
 *
 * @throws RangeError when `within` is not a finite length ≥ 0.
 */
export function createClearanceIndex(within: number): ClearanceIndex {
  if (!(Number.isFinite(within) && within >= 0))
    throw new RangeError(`clearance: found within ${within} mm, wanted a length of at least 0 mm`)
  // Anything that overlaps is a pair, however small `within` is.
  const limit = Math.max(within, Number.MIN_VALUE)
  let parts = new Map<string, Part>()
  let unmeasured: Unmeasured[] = []
  const found = new Map<string, Map<string, MeasuredPair>>()

  const remember = (key: string, other: string, pair: MeasuredPair) => {
    const known = found.get(key)
    if (known) known.set(other, pair)
    else found.set(key, new Map([[other, pair]]))
  }
  const forget = (key: string) => {
    for (const other of found.get(key)?.keys() ?? []) if (other !== key) found.get(other)?.delete(key)
    found.delete(key)
  }
  const check = (p: Part, q: Part) => {
    const pair = measure(p, q, limit)
    if (!pair) return
    remember(p.key, q.key, pair)
    if (p !== q) remember(q.key, p.key, pair)
  }
  /** Parts whose pairs are not all measured: as good as not there. */
  let unfinished = new Set<Part>()
  const dropUnfinished = () => {
    for (const part of unfinished) {
      forget(part.key)
      parts.delete(part.key)
    }
    unfinished = new Set()
  }
  /** Puts the document's parts in place; gives those with another outside than before. */
  const bringIn = (
    document: SkidDocument,
    solvedRuns: readonly SolvedRun[],
    meshes: readonly MeshBody[],
  ): Part[] => {
    const next = new Map<string, Part>()
    unmeasured = []
    const changed: Part[] = []
    const fittings = fittingsById(document.fittings)
    const solvedOf = new Map(solvedRuns.map(s => [s.runId, s]))
    const tubesIn = placements([...parts.values()].flatMap(p => (p.kind === 'mesh' ? p.placed : [])))
    const take = (key: string, part: Part | Unmeasured) => {
      if (!('key' in part)) {
        unmeasured.push(part)
        return
      }
      if (part !== parts.get(key)) changed.push(part)
      next.set(key, part)
    }
    for (const run of document.runs) {
      const key = runKey(run.id)
      take(key, tubePart(run, solvedOf.get(run.id), fittings, parts.get(key)))
    }
    for (const solid of document.solids) {
      const key = solidKey(solid.id)
      take(key, solidPart(solid, parts.get(key)))
    }
    for (const mesh of meshes) {
      const key = meshKey(mesh.id)
      take(key, meshPart(mesh, parts.get(key), tubesIn))
    }
    for (const key of parts.keys()) if (!next.has(key)) forget(key)
    for (const part of changed) forget(part.key)
    parts = next
    return changed
  }
  function* updating(
    document: SkidDocument,
    solvedRuns: readonly SolvedRun[],
    meshes: readonly MeshBody[] = [],
  ): Generator<Progress, number> {
    dropUnfinished()
    const changed = bringIn(document, solvedRuns, meshes)
    unfinished = new Set(changed)
    yield { done: 0, total: 0 }
    const jobs = [...pairsToCheck(changed, parts, limit)]
    let total = 0
    for (const { others } of jobs) total += others.length
    let done = 0
    for (const { part, others } of jobs) {
      for (const other of others) {
        check(part, other)
        done++
        yield { done, total }
      }
      unfinished.delete(part)
    }
    return done
  }

  return {
    within,
    updating,
    update(document, solvedRuns, meshes) {
      const steps = updating(document, solvedRuns, meshes)
      for (;;) {
        const step = steps.next()
        if (step.done) return step.value
      }
    },
    *pairs() {
      if (unfinished.size > 0)
        throw new Error('clearance: found an unfinished update, wanted it finished before its pairs are read')
      for (const [key, known] of found) for (const pair of known.values()) if (pair.a.key === key) yield pair
    },
    unmeasured: () => unmeasured,
  }
}

/** The two parts in the order that their keys, not the edit, decide. */
function measure(p: Part, q: Part, limit: number): MeasuredPair | null {
  const [a, b] = p.kind !== 'run' || (q.kind === 'run' && q.key < p.key) ? [q, p] : [p, q]
  if (a.kind !== 'run') return null
  const gap = partGap(a, b, limit)
  return gap && { a, b, gap }
}

/** Above this share of changed parts a tree over everything is worth its building. */
const TREE_FROM = 0.1

/** Each changed part with the parts that it is to be measured against; every pair once. */
function* pairsToCheck(
  changed: readonly Part[],
  parts: ReadonlyMap<string, Part>,
  within: number,
): Iterable<{ readonly part: Part; readonly others: readonly Part[] }> {
  const all = [...parts.values()]
  const isNew = new Set(changed)
  const seen = new Set<Part>()
  const near = changed.length > all.length * TREE_FROM ? nearByTree(all, within) : nearByList(all, within)
  for (const part of changed) {
    const others: Part[] = []
    for (const other of near(part)) {
      if (part.kind !== 'run' && other.kind !== 'run') continue
      if (isNew.has(other) && seen.has(other)) continue
      others.push(other)
    }
    seen.add(part)
    yield { part, others }
  }
}

type Near = (p: Part) => Iterable<Part>

const nearByList =
  (all: readonly Part[], within: number): Near =>
  p =>
    all.filter(q => boundsMeet(p, q, within))

/** The tree holds the boxes of stretches, not of whole runs: a bent run's own box is mostly air. */
function nearByTree(all: readonly Part[], within: number): Near {
  const boxes: Bounds[] = []
  const owners: Part[] = []
  const endless: Part[] = []
  for (const part of all) {
    const own = boxesOf(part)
    if (!own) endless.push(part)
    for (const box of own ?? []) {
      boxes.push(box)
      owners.push(part)
    }
  }
  const tree = new BoxTree(boxes)
  return p => {
    const own = boxesOf(p)
    if (!own) return all
    const near = new Set<Part>(endless)
    for (const box of own) tree.query(box, within, i => near.add(owners[i]!))
    return near
  }
}

/** Boxes that cover the part together; null when it has no bounds. */
function boxesOf(part: Part): readonly Bounds[] | null {
  if (part.kind !== 'run') return Number.isFinite(part.low[0]) ? [part] : null
  return part.rods.flatMap(({ radius, stretches }) =>
    stretches.map(s => {
      const g = radius + s.slack
      return {
        low: [Math.min(s.ax, s.bx) - g, Math.min(s.ay, s.by) - g, Math.min(s.az, s.bz) - g] as const,
        high: [Math.max(s.ax, s.bx) + g, Math.max(s.ay, s.by) + g, Math.max(s.az, s.bz) + g] as const,
      }
    }),
  )
}
