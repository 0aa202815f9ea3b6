import { add, addScaled, scale, type Vec3 } from '../geometry/vec3.ts'
import { type ConvexSolid, inradius, type Rod, rodNearest, signedDistance, solidReach } from './convex.ts'
import { clearance } from './gap.ts'
import { limits, type Motion, pace, placeAt } from './motion.ts'
import { type BallBound, ballBound } from './motionReach.ts'
import { type PartTree, partTree } from './partTree.ts'
import type { PartOfRun, TubePart } from './tubePart.ts'

/** Tube parts that move together against solids that stand still in the motion's frame. */
export interface SweepJob {
  readonly parts: readonly TubePart[]
  readonly solids: readonly ConvexSolid[]
  readonly motion: Motion
  /** How the motion's t reads in the answer: plus + per·t. */
  readonly reads: { readonly plus: number; readonly per: number }
}

export interface SweepResult {
  /** Certified: nothing comes nearer than this over the whole motion, mm; negative: contact as deep as this. */
  readonly atLeast: number
  /** Clearance found at `at`; atLeast ≤ true least ≤ found. */
  readonly found: number
  /** Where in the motion, as the job reads it. */
  readonly at: number
  readonly part: PartOfRun
  readonly solid: string
  /** Distance evaluations it took. */
  readonly evaluations: number
}

/** Thrown where no bound can be had: a figure is not finite, or so large that its rounding is no longer small. */
export class NotKnown extends Error {
  override readonly name = 'NotKnown'
}

/** Farther from the die than this nothing is swept, mm: there a double's last digit is 1e-10, its squares' 1e-4. */
const FARTHEST_MM = 1e6

/** The certified figure lies no further than this under the true least clearance, mm. */
export const SWEEP_TOLERANCE_MM = 0.04
/** Taken off every answer: square roots of differences near 0 leave 1e-8 of a radius; a hundred times that. */
const ROUNDING_MM = 1e-5
/** After this many the bound reached so far is the answer: still certified, only further from the truth. */
const MAX_EVALUATIONS = 100_000
/**
 * A straight longer than this many times its gap and the solid's size is halved before its time is: a far end that
 * moves much makes the whole straight's bound bad. Found by trying: 1 to 2 take the fewest evaluations.
 */
const LONG = 1.5
/** A bend is looked at in pieces of at most this much to begin with. */
const FIRST_ARC_RAD = Math.PI / 4

/** A stretch of the tube whose parts have not been looked at one by one: a node of their tree. */
interface Stretch {
  readonly job: SweepJob
  readonly solid: ConvexSolid
  readonly tree: PartTree
  readonly at: number
  readonly bound: BallBound
  lower: number
}

interface Node {
  readonly job: SweepJob
  readonly part: TubePart
  readonly solid: ConvexSolid
  readonly t0: number
  readonly t1: number
  readonly a0: number
  readonly a1: number
  lower: number
  /** How far the bound is off because of the time span, and because of the chord. */
  timeSlack: number
  chordSlack: number
  /** Its far end moves so much more than what lies near the solid that the piece is halved before the time is. */
  long: boolean
}

/**
 * Certified least clearance between moving tube and solids. Best-first search: over a tree of the tube's stretches
 * first, each bound for the whole motion, then over spans of the motion and pieces of bends: at a span's middle the least distance gives a separating plane; every tube point's way
 * across that plane is its speed now plus a bounded curvature, which certifies the span. Spans are halved
 * until the worst bound is within SWEEP_TOLERANCE_MM of a clearance really found.
 * Tube ends are flat; bends are chords whose deviation is part of the bound.
 * @param radius half the tube's OD, mm.
 * @param ceiling stop looking above this clearance (something else is already as near); the answer is then null.
 * @param floor stop as soon as a clearance at or under this is found: the answer is then certified but loose.
 * @returns null when nothing comes nearer than `ceiling`, or there is nothing to come near to.
 * @throws NotKnown when the tube or its motion is not finite or farther off than FARTHEST_MM, or when the looks are
 * used up before contact and clearance are told apart.
 */
export function sweep(
  jobs: readonly SweepJob[],
  radius: number,
  ceiling = Number.POSITIVE_INFINITY,
  floor = Number.NEGATIVE_INFINITY,
): SweepResult | null {
  let best = ceiling
  let witness: Omit<SweepResult, 'atLeast' | 'evaluations'> | null = null
  let evaluations = 0
  /** Least bound of all that was set aside as no nearer than the best. */
  let dropped = Number.POSITIVE_INFINITY
  const heap: Heap = []

  const look = (
    job: SweepJob,
    part: TubePart,
    solid: ConvexSolid,
    span: [number, number, number, number],
  ) => {
    const [t0, t1, a0, a1] = span
    const { motion } = job
    const middle = (t0 + t1) / 2
    const half = (t1 - t0) / 2
    const still = rodOf(part, radius, a0, a1)
    const rod: Rod = {
      ...still.rod,
      from: placeAt(motion, still.rod.from, middle),
      to: placeAt(motion, still.rod.to, middle),
    }
    const sagitta = still.sagitta
    const far = farBound(rod, solid) - sagitta
    const speed = limits(motion, rod, [0, 0, 1], half).speed
    const quick = far - speed * half
    if (quick >= best - SWEEP_TOLERANCE_MM) {
      dropped = Math.min(dropped, quick)
      return
    }
    evaluations++
    const gap = clearance(rod, solid)
    if (gap.upper + sagitta < best) {
      best = gap.upper + sagitta
      witness = { found: best, at: job.reads.plus + job.reads.per * middle, part: part.of, solid: solid.name }
    }
    const lower = Math.max(
      gap.lower - speed * half,
      planeBound(motion, rod, solid, gap.away, middle, half),
      // No point lies deeper in a solid than its inradius.
      -inradius(solid),
    )
    const node: Node = {
      job,
      part,
      solid,
      t0,
      t1,
      a0,
      a1,
      lower: lower - sagitta,
      timeSlack: gap.upper - lower,
      chordSlack: 2 * sagitta,
      long:
        half > 0 && part.kind === 'line' && lengthOf(rod) > LONG * (Math.max(0, gap.upper) + sizeOf(solid)),
    }
    const splits = t1 - t0 > 1e-12 || sagitta > 1e-9
    if (splits && node.lower < best - SWEEP_TOLERANCE_MM) push(heap, node)
    else dropped = Math.min(dropped, node.lower)
  }

  for (const job of jobs) if (job.solids.length > 0 && job.parts.length > 0) mustBeKnown(job)
  /** A node of the tree of parts, put by to be looked at when nothing nearer is left. */
  const consider = (job: SweepJob, solid: ConvexSolid, tree: PartTree, at: number, bound: BallBound) => {
    const { balls } = tree
    const i = 4 * at
    const lower = bound(balls[i]!, balls[i + 1]!, balls[i + 2]!, balls[i + 3]! + radius) - ROUNDING_MM
    if (lower < best - SWEEP_TOLERANCE_MM) push(heap, { job, solid, tree, at, bound, lower })
    else dropped = Math.min(dropped, lower)
  }
  const open = ({ job, solid, tree, at, bound }: Stretch) => {
    if (at < tree.leaves) {
      consider(job, solid, tree, 2 * at, bound)
      consider(job, solid, tree, 2 * at + 1, bound)
      return
    }
    const part = job.parts[at - tree.leaves]!
    for (const [a0, a1] of firstPieces(part)) {
      const { from, to } = job.motion
      look(job, part, solid, [from, to, a0, a1])
      // The least is often where a motion begins or ends: a look there saves closing in on it.
      if (to > from) for (const t of [from, to]) look(job, part, solid, [t, t, a0, a1])
    }
  }

  for (const job of jobs)
    if (job.parts.length > 0)
      for (const solid of job.solids)
        consider(job, solid, partTree(job.parts), 1, ballBound(job.motion, solid))

  for (let node = pop(heap); node !== undefined; node = pop(heap)) {
    const near = node.lower >= best - SWEEP_TOLERANCE_MM || (witness !== null && best <= floor)
    if (near || evaluations >= MAX_EVALUATIONS) {
      dropped = Math.min(dropped, node.lower)
      break
    }
    if ('tree' in node) {
      open(node)
      continue
    }
    const { job, part, solid, t0, t1, a0, a1 } = node
    if (node.long || node.chordSlack > node.timeSlack) {
      const a = (a0 + a1) / 2
      look(job, part, solid, [t0, t1, a0, a])
      look(job, part, solid, [t0, t1, a, a1])
    } else {
      const t = (t0 + t1) / 2
      look(job, part, solid, [t0, t, a0, a1])
      look(job, part, solid, [t, t1, a0, a1])
    }
  }
  const atLeast = Math.min(best, dropped) - ROUNDING_MM
  if (witness === null) return null
  const { found } = witness as SweepResult
  // A bound that the looks did not bring up to the truth is no contact found.
  if (evaluations >= MAX_EVALUATIONS && atLeast < 0 && found > SWEEP_TOLERANCE_MM && found > floor)
    throw new NotKnown(`after ${MAX_EVALUATIONS} steps it is still undecided whether it clears`)
  return { ...(witness as SweepResult), atLeast, evaluations }
}

/** @throws NotKnown when a figure of the tube or its motion is not finite or too large for the rounding to be small. */
function mustBeKnown({ parts, motion }: SweepJob): void {
  const far = (x: number) => !(Math.abs(x) <= FARTHEST_MM)
  const farAt = (p: Vec3) => far(p[0]) || far(p[1]) || far(p[2])
  let lost = far(motion.from) || far(motion.to) || far(partTree(parts).farthest)
  if (motion.kind === 'shift') lost ||= farAt(motion.along)
  else if (motion.kind === 'turn') lost ||= farAt(motion.origin) || farAt(motion.axis)
  else if (motion.kind === 'drawn') lost ||= farAt(motion.origin) || far(motion.feed)
  if (lost) throw new NotKnown('a figure of the tube or its motion is not finite, or too large')
}

/** Lower bound of the clearance over the span, by the plane square to `away`. */
function planeBound(
  motion: Motion,
  rod: Rod,
  solid: ConvexSolid,
  away: Vec3,
  middle: number,
  half: number,
): number {
  const { slope, rest } = pace(motion, away, middle)
  const { curve } = limits(motion, rod, away, half)
  const ahead = rodNearest(rod, add(away, scale(slope, half))) + rest * half
  const behind = rodNearest(rod, add(away, scale(slope, -half))) - rest * half
  return Math.min(ahead, behind) - solidReach(solid, away) - (curve * half * half) / 2
}

/** A quick lower bound: the solid's distance from the rod's middle less the rod's reach. */
function farBound(rod: Rod, solid: ConvexSolid): number {
  const middle: Vec3 = [
    (rod.from[0] + rod.to[0]) / 2,
    (rod.from[1] + rod.to[1]) / 2,
    (rod.from[2] + rod.to[2]) / 2,
  ]
  return signedDistance(solid, middle) - lengthOf(rod) / 2 - rod.radius
}

const lengthOf = ({ from, to }: Rod): number => Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])

/** Largest distance from a solid's centre to its surface, mm. */
const sizeOf = (solid: ConvexSolid): number =>
  solid.shape === 'box' ? Math.hypot(...solid.half) : Math.hypot(solid.halfLength, solid.radius)

function firstPieces(part: TubePart): [number, number][] {
  if (part.kind === 'line') return [[0, 1]]
  const count = Math.max(1, Math.ceil(part.angleRad / FIRST_ARC_RAD))
  const step = part.angleRad / count
  return Array.from({ length: count }, (_, i) => [i * step, (i + 1) * step])
}

function rodOf(part: TubePart, radius: number, a0: number, a1: number): { rod: Rod; sagitta: number } {
  if (part.kind === 'line') {
    const at = (a: number): Vec3 =>
      a === 0 ? part.from : a === 1 ? part.to : addScaled(scale(part.from, 1 - a), part.to, a)
    return { rod: { from: at(a0), to: at(a1), radius, flat: true }, sagitta: 0 }
  }
  const at = (a: number): Vec3 =>
    add(
      part.centre,
      add(scale(part.out, part.radius * Math.cos(a)), scale(part.heading, part.radius * Math.sin(a))),
    )
  return {
    rod: { from: at(a0), to: at(a1), radius, flat: false },
    sagitta: part.radius * (1 - Math.cos((a1 - a0) / 2)),
  }
}

type Heap = (Node | Stretch)[]

function push(heap: Heap, node: Node | Stretch): void {
  let i = heap.push(node) - 1
  while (i > 0) {
    const up = (i - 1) >> 1
    if (heap[up]!.lower <= node.lower) break
    heap[i] = heap[up]!
    i = up
  }
  heap[i] = node
}

function pop(heap: Heap): Node | Stretch | undefined {
  const top = heap[0]
  const last = heap.pop()
  if (top === undefined || last === undefined || heap.length === 0) return top
  let i = 0
  for (;;) {
    let down = 2 * i + 1
    if (down >= heap.length) break
    if (down + 1 < heap.length && heap[down + 1]!.lower < heap[down]!.lower) down++
    if (heap[down]!.lower >= last.lower) break
    heap[i] = heap[down]!
    i = down
  }
  heap[i] = last
  return top
}
