import type { Run, SkidDocument } from '../document/types.ts'
import type { Gap } from '../geometry/sweptGap.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type ClearanceIndex, createClearanceIndex, type MeasuredPair } from './clearanceIndex.ts'
import { afterLeaving, SAME, stubsOn } from './partGap.ts'
import type { MeshBody, TubePart } from './parts.ts'
import { type Body, requiredClearance } from './required.ts'
import type { Stub } from './stubs.ts'

/** The straight or bend (0-based) of a run that a nearest point lies on. */
export interface Place {
  readonly kind: 'straight' | 'bend'
  readonly index: number
}

/** How near a run comes to another run, a solid or itself. Lengths mm. */
export interface ClearancePair {
  /** Run tag. */
  readonly a: string
  /** Run tag, or name of the solid or mesh; the same tag as `a` when the run comes near itself. */
  readonly b: string
  readonly aId: string
  readonly bId: string
  readonly kind: 'run' | 'solid' | 'mesh' | 'self'
  /** Between outsides, insulation included; negative when they overlap (depth: see `Gap`). */
  readonly clearance: number
  /** The true figure is no further than this from `clearance`. */
  readonly errorBound: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  /**
   * What the document asks for. 0 against a body that a port of the run stands on, while the tube has not left that port (see
   * `leftPort`): there it must not overlap.
   */
  readonly required: number
  /** Stretches of the run that are not measured against a body that its ports stand on. */
  readonly exempt: readonly Pick<Stub, 'end' | 'length'>[]
  readonly placeA: Place
  /** Null on a solid or mesh. */
  readonly placeB: Place | null
}

/**
 * Every pair nearer than `within` (mm): run and run, run and solid or mesh, run and itself. Only the stub at a port is left
 * out, against the body that the port stands on. Sorted nearest first, then by ids. Runs without a route and solids
 * without a shape are not in it: ask the index for its `unmeasured`.
 */
export function clearances(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  { within, meshes = [] }: { readonly within: number; readonly meshes?: readonly MeshBody[] },
): ClearancePair[] {
  const index = createClearanceIndex(within)
  index.update(document, solvedRuns, meshes)
  return clearancePairs(index, document, meshes)
}

/** The pairs that an index brought up to `document` holds, with what the document asks of them. */
export function clearancePairs(
  index: ClearanceIndex,
  document: SkidDocument,
  meshes: readonly MeshBody[] = [],
): ClearancePair[] {
  const runs = new Map(document.runs.map(r => [r.id, r]))
  const solids = new Map(document.solids.map(s => [s.id, s]))
  const bodies = new Map(meshes.map(m => [m.id, m]))
  const pairs: ClearancePair[] = []
  for (const measured of index.pairs()) {
    const run = runs.get(measured.a.id)
    const { kind, id } = measured.b
    const other = kind === 'run' ? runs.get(id) : kind === 'solid' ? solids.get(id) : bodies.get(id)
    if (!run || !other)
      throw new Error('clearancePairs: found an index of another document, wanted it brought up to this one')
    pairs.push(named(counted(measured, requiredClearance(document, other)), run, other))
  }
  return pairs.sort(
    (p, q) =>
      p.clearance - q.clearance || order(p.aId, q.aId) || order(p.bId, q.bId) || order(p.kind, q.kind),
  )
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

interface Counted extends MeasuredPair {
  readonly required: number
  readonly exempt: readonly Stub[]
}

/** What was measured after a tube has left its ports, by what was required there. */
const known = new WeakMap<MeasuredPair, { readonly required: number; readonly gap: Gap | null }>()

/** The gap that decides, and what is asked of it: an overlap first, then what is too near after the tube has left its port. */
function counted(measured: MeasuredPair, required: number): Counted {
  const { a, b, gap } = measured
  const exempt = stubsOn(a, b)
  if (exempt.length === 0 || b.kind === 'run' || gap.gap < -SAME) return { ...measured, required, exempt }
  let later = known.get(measured)
  if (later?.required !== required) {
    later = { required, gap: afterLeaving(a, b, exempt, required, Math.max(required, gap.gap) + SAME) }
    known.set(measured, later)
  }
  const after = later.gap
  if (after && (after.gap < required - SAME || after.gap <= gap.gap + SAME))
    return { ...measured, gap: after, required, exempt }
  return { ...measured, required: 0, exempt }
}

function named({ a, b, gap, required, exempt }: Counted, run: Run, other: Run | Body): ClearancePair {
  return {
    a: run.tag,
    b: 'tube' in other ? other.tag : other.name,
    aId: run.id,
    bId: other.id,
    kind: a === b ? 'self' : b.kind,
    clearance: gap.gap,
    errorBound: gap.errorBound,
    pointA: gap.pointA,
    pointB: gap.pointB,
    required,
    exempt: exempt.map(({ end, length }) => ({ end, length })),
    placeA: placeOn(a, gap.shapeA),
    placeB: b.kind === 'run' ? placeOn(b, gap.shapeB) : null,
  }
}

function placeOn(part: TubePart, shape: number): Place {
  const piece = part.route.pieces[shape]!
  return piece.kind === 'line'
    ? { kind: 'straight', index: piece.straight }
    : { kind: 'bend', index: piece.bend }
}
