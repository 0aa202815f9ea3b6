import { type Chain, chainsApart } from './chainTree.ts'
import { type Convex, cylinderBetween, supportOnly } from './convex.ts'
import { convexDistance } from './convexPair.ts'
import { leastOver } from './leastOver.ts'
import { NearestHeap } from './nearestHeap.ts'
import { nearestOnSegments, type SegmentPair } from './segments.ts'
import {
  coreOf,
  discAt,
  nearestOnDisc,
  nearestParameter,
  pointOnShape,
  type Stretch,
  type Swept,
  sectionOnShape,
} from './swept.ts'
import { addScaled, cross, distance, dot, scale, sub, turnDirection, unit, type Vec3 } from './vec3.ts'

/** The search ends once no stretch left can come nearer than the best by more than this. mm */
export const SEARCH_TOLERANCE = 0.002
/** Between flat bodies, mm. */
const FLAT_TOLERANCE = 1e-9
/** What is no farther than this from the least that it can be is not looked at further, mm. */
export const SETTLED = 1e-8
/** Walking down pays once the slack is below this. mm */
const SETTLE_FROM = 1
/** Two places of one curve count when it turns by at least this from one to the other, radians (see `selfGap`). */
export const HALF_TURN = Math.PI - 1e-9

/** A place of a swept curve: index of its shape, and where on it (see `pointOnShape`). */
export interface OnSwept {
  readonly shape: number
  readonly t: number
}

export interface NearestSwept {
  /** mm. Of round ends: negative by how much the radii exceed the distance. Of cut ends: 0 where they overlap. */
  readonly gap: number
  /** No place has less, mm. */
  readonly lower: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  readonly a: OnSwept
  readonly b: OnSwept
}

export interface Manner {
  /** Places of one curve, those of A before those of B, half a turn apart at least. */
  readonly self: boolean
  /** Ends as they are: cut flat. Else they are rounded, which is never farther. */
  readonly cut: boolean
}

interface Candidate {
  readonly a: Stretch
  readonly b: Stretch
  readonly u: number
  readonly v: number
  readonly lower: number
  readonly upper: number
  /** Set where a cut end decides: the nearest points of the flat bodies, exact when neither is an arc's. */
  readonly flat: { readonly gap: number; readonly pointA: Vec3; readonly pointB: Vec3 } | null
}

type Found = Omit<NearestSwept, 'lower'>

/**
 * Least gap between two swept outsides when it is below `limit`, else null.
 *
 * Branch and bound over pairs of stretches: segment to segment in closed form, arcs through chords with a slack
 * that quarters at each halving, until what is left cannot undercut the best by more than SEARCH_TOLERANCE.
 */
export function nearestSwept(A: Swept, B: Swept, limit: number, { self, cut }: Manner): NearestSwept | null {
  const open = new NearestHeap<Candidate>()
  let upper = Infinity
  let best: Found | null = null
  // The candidate that `upper` is from while it is too coarse to be worth walking down.
  let coarse: Candidate | null = null
  let doneLower = Infinity
  const take = (candidate: Candidate) => {
    let found = settle(A, B, candidate, self)
    // Walked downhill, a line's place may have come to its cut end.
    const { a, b, flat } = candidate
    if (cut && !flat && (isCutAt(a, found.a.t) || isCutAt(b, found.b.t)))
      found = settle(A, B, weighFlat(a, b, candidate), self)
    if (cut && found.gap < 0) found.gap = 0
    if (best && found.gap >= best.gap) return
    best = found
    if (found.gap > upper) return
    upper = found.gap
    coarse = null
  }
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }

  const look = (a: Stretch, b: Stretch) => {
    if (self && b.turnTo - a.turnFrom < HALF_TURN) return
    const x = a.mx - b.mx
    const y = a.my - b.my
    const z = a.mz - b.mz
    const most = Math.min(upper, limit) + A.radius + B.radius + a.reach + b.reach
    if (x * x + y * y + z * z >= most * most && most > 0) return
    nearestOnSegments(a, b, pair)
    const round = pair.distance - A.radius - B.radius
    const slack = a.slack + b.slack
    if (round - slack >= limit || round - slack >= upper) return
    const candidate =
      cut && (isCutAt(a, pair.u) || isCutAt(b, pair.v))
        ? weighFlat(a, b, pair)
        : { a, b, u: pair.u, v: pair.v, lower: round - slack, upper: round + slack, flat: null }
    if (candidate.lower >= limit || candidate.lower >= upper) return
    if (candidate.upper < upper) {
      const isCoarse = candidate.flat ? slack > 0 : slack > SETTLE_FROM
      if (isCoarse && !self) {
        upper = candidate.upper
        coarse = candidate
      } else take(candidate)
    }
    open.push(candidate.lower, candidate)
  }

  const visit = (a: Chain<Stretch>, b: Chain<Stretch>, apart: number) => {
    if (apart >= Math.min(upper, limit) + A.radius + B.radius) return
    if (self && b.turnTo - a.turnFrom < HALF_TURN) return
    if (a.stretch && b.stretch) {
      if (a !== b) look(a.stretch, b.stretch)
      return
    }
    if (self && a === b) {
      const [p, q] = a.parts!
      visit(p, q, chainsApart(p, q))
      visit(p, p, 0)
      visit(q, q, 0)
      return
    }
    if (a.parts && (!b.parts || a.reach >= b.reach)) {
      const [p, q] = a.parts
      const toP = chainsApart(p, b)
      const toQ = chainsApart(q, b)
      if (toP <= toQ) visit(p, b, toP)
      visit(q, b, toQ)
      if (toP > toQ) visit(p, b, toP)
    } else {
      const [p, q] = b.parts!
      const toP = chainsApart(a, p)
      const toQ = chainsApart(a, q)
      if (toP <= toQ) visit(a, p, toP)
      visit(a, q, toQ)
      if (toP > toQ) visit(a, p, toP)
    }
  }
  visit(A.chain, B.chain, A === B ? 0 : chainsApart(A.chain, B.chain))

  const isOpen = () => open.size > 0 && open.least < upper - SEARCH_TOLERANCE && open.least < limit
  while (isOpen() && !(cut && upper <= 0)) {
    const { a, b, lower } = open.pop()!
    if (a.slack === 0 && b.slack === 0) {
      doneLower = Math.min(doneLower, lower)
    } else if (a.slack >= b.slack) {
      const [p, q] = a.split()
      look(p, b)
      look(q, b)
    } else {
      const [p, q] = b.split()
      look(a, p)
      look(a, q)
    }
  }
  const certain = Math.min(open.least, doneLower)
  if (coarse) take(coarse)
  // What is left may be nearer by less than the tolerance: once for each two shapes, so that turning the skid does not
  // change which of two nearly equal places is told.
  const seen = new Set<number>()
  for (let next = open.pop(); next && best && next.lower < (best as Found).gap; next = open.pop()) {
    const shapes = next.a.index * B.shapes.length + next.b.index
    if (seen.has(shapes)) continue
    seen.add(shapes)
    take(next)
  }
  const found = best as Found | null
  if (!found || !(found.gap < limit)) return null
  return { ...found, lower: Math.min(certain, found.gap) }
}

/** Whether a place near a cut end may be what the cut takes off: within a line it is square to the line, and stays. */
const isCutAt = (s: Stretch, u: number): boolean => s.nearCut && (s.slack > 0 || u === 0 || u === 1)

/** The pair with what is near a cut end as flat bodies. */
function weighFlat(a: Stretch, b: Stretch, { u, v }: Pick<SegmentPair, 'u' | 'v'>): Candidate {
  const met = convexDistance(a.nearCut ? a.flat : coreOf(a), b.nearCut ? b.flat : coreOf(b), FLAT_TOLERANCE)
  const [ra, rb] = [a.nearCut ? 0 : a.radius, b.nearCut ? 0 : b.radius]
  // The flat bodies hold the true rods.
  const [under, over] = [a, b].reduce(
    ([p, q], s) => (s.nearCut ? [p, q + s.flatSlack] : [p + s.slack, q + s.slack]),
    [0, 0],
  )
  return {
    a,
    b,
    u,
    v,
    lower: met.lower - ra - rb - under,
    upper: met.upper - ra - rb + over,
    flat: outside(met, ra, rb),
  }
}

/** Points of two cores taken out to the radii around them. */
function outside(
  { pointA, pointB, upper: apart }: { pointA: Vec3; pointB: Vec3; upper: number },
  ra: number,
  rb: number,
) {
  const way = apart > 0 ? scale(sub(pointB, pointA), 1 / apart) : ([0, 0, 0] as const)
  return {
    gap: apart - ra - rb,
    pointA: addScaled(pointA, way, ra),
    pointB: addScaled(pointB, way, -rb),
  }
}

/** The candidate on the true curves, walked downhill to rounding. */
const settle = (A: Swept, B: Swept, c: Candidate, self: boolean): Writable<Found> =>
  c.flat ? settleFlat(A, B, c, self) : settleRound(A, B, c, self)

function settleRound(A: Swept, B: Swept, c: Candidate, self: boolean): Writable<Found> {
  const { a, b } = c
  let s = a.from + c.u * (a.to - a.from)
  let t = b.from + c.v * (b.to - b.from)
  if (self) {
    // A pair of stretches may reach over the half turn only in part: go to where it counts.
    const short = () => Math.max(HALF_TURN - (turnAt(B, b, t) - turnAt(A, a, s)), 0)
    if (b.slack > 0) t = Math.min(t + short(), b.to)
    if (a.slack > 0) s = Math.max(s - short(), a.from)
  }
  let p = pointOnShape(a.shape, s)
  let q = pointOnShape(b.shape, t)
  let apart = distance(p, q)
  const go = (s2: number, t2: number, least: number): boolean => {
    const p2 = pointOnShape(a.shape, s2)
    const q2 = pointOnShape(b.shape, t2)
    const nearer = distance(p2, q2)
    if (!(nearer < apart - least)) return false
    if (self && turnAt(B, b, t2) - turnAt(A, a, s2) < HALF_TURN) return false
    s = s2
    t = t2
    p = p2
    q = q2
    apart = nearer
    return true
  }
  if (a.slack > 0 || b.slack > 0)
    for (let step = 0; step < 40; step++) {
      const s2 = nearestParameter(a.shape, q)
      const isMoved = go(s2, nearestParameter(b.shape, pointOnShape(a.shape, s2)), 1e-12)
      const next = newton(a, b, s, t, p, q)
      if (!(next && go(next[0], next[1], 1e-13)) && !isMoved) break
    }
  return {
    ...outside({ pointA: p, pointB: q, upper: apart }, A.radius, B.radius),
    a: { shape: a.index, t: s },
    b: { shape: b.index, t },
  }
}

/** Newton's step towards the least distance of two shapes, kept on them; null where the distance has no bowl. */
function newton(a: Stretch, b: Stretch, s: number, t: number, p: Vec3, q: Vec3): [number, number] | null {
  const r = sub(p, q)
  const [da, db] = [motion(a, s), motion(b, t)]
  const [fs, ft] = [dot(r, da.first), -dot(r, db.first)]
  const fss = dot(da.first, da.first) + dot(r, da.second)
  const ftt = dot(db.first, db.first) - dot(r, db.second)
  const fst = -dot(da.first, db.first)
  const det = fss * ftt - fst * fst
  if (!(fss > 0 && det > 1e-12 * fss * ftt)) return null
  const whole = (x: Stretch) => (x.shape.kind === 'arc' ? x.shape.angleRad : 1)
  const keep = (x: number, most: number) => Math.min(Math.max(x, 0), most)
  return [keep(s - (ftt * fs - fst * ft) / det, whole(a)), keep(t - (fss * ft - fst * fs) / det, whole(b))]
}

/** First and second derivative of the curve by its parameter. */
function motion({ shape }: Stretch, t: number): { first: Vec3; second: Vec3 } {
  if (shape.kind === 'line') return { first: sub(shape.end, shape.start), second: [0, 0, 0] }
  const out = turnDirection(sub(shape.start, shape.centre), shape.normal, t)
  return { first: cross(shape.normal, out), second: scale(out, -1) }
}

/**
 * On an arc near a cut end nothing but sections counts: the end's own disc, and where round sides come nearest. All of these are
 * tried, exactly.
 */
function settleFlat(A: Swept, B: Swept, c: Candidate, self: boolean): Writable<Found> {
  const { a, b, u, v, flat } = c
  const told = (gap: Candidate['flat'], s: number, t: number) => ({
    ...gap!,
    a: { shape: a.index, t: s },
    b: { shape: b.index, t },
  })
  if (a.slack === 0 && b.slack === 0) return told(flat, u, v)
  let best: Writable<Found> | null = null
  const between = (
    p: Pick<Body, 'body' | 'radius'>,
    q: Pick<Body, 'body' | 'radius'>,
    s: number,
    t: number,
  ) => told(outside(convexDistance(p.body, q.body, FLAT_TOLERANCE), p.radius, q.radius), s, t)
  const offer = (found: Writable<Found>) => {
    if (self && turnAt(B, b, found.b.t) - turnAt(A, a, found.a.t) < HALF_TURN - 1e-9) return
    if (!best || found.gap < best.gap) best = found
  }
  const atPlace = (s: number, t: number) => offer(between(sectionOf(a, s), sectionOf(b, t), s, t))
  const round = settleRound(A, B, c, self)
  const apart = sub(pointOnShape(b.shape, round.b.t), pointOnShape(a.shape, round.a.t))
  const way = unit(apart) ?? apart
  if (isSquare(a, round.a.t, way) && isSquare(b, round.b.t, way)) offer(round)
  else atPlace(round.a.t, round.b.t)
  const [ofA, ofB] = [bodiesOf(A, a), bodiesOf(B, b)]
  for (const p of ofA) for (const q of ofB) offer(between(p, q, p.t ?? u, q.t ?? v))
  // A disc or a straight rod, and the round side of an arc.
  if (b.slack > 0)
    for (const p of ofA) {
      const t = onArc(p, b, self ? [a.turnFrom + HALF_TURN - B.turns[b.index]!, Infinity] : ALL)
      offer(between(p, sectionOf(b, t), p.t ?? u, t))
    }
  if (a.slack > 0)
    for (const q of ofB) {
      const s = onArc(q, a, self ? [-Infinity, b.turnTo - HALF_TURN - A.turns[a.index]!] : ALL)
      offer(between(sectionOf(a, s), q, s, q.t ?? v))
    }
  if ((isThick(a) || isThick(b)) && !(best && (best as Found).gap <= c.lower + SETTLED)) {
    const { s, t } = onThick(a, b, { s: round.a.t, t: round.b.t })
    atPlace(s, t)
  }
  return best ?? told(flat, u, v)
}

/** Rounds of looking along one arc and then along the other. */
const ROUNDS = 4

/** Where sections of two stretches come nearest, looked for along one at a time. */
function onThick(a: Stretch, b: Stretch, from: { s: number; t: number }): { s: number; t: number } {
  let { s, t } = from
  const apart = (p: Pick<Body, 'body' | 'radius'>, q: Pick<Body, 'body' | 'radius'>) =>
    convexDistance(p.body, q.body, FLAT_TOLERANCE).upper - p.radius - q.radius
  for (let round = 0; round < (a.slack > 0 && b.slack > 0 ? ROUNDS : 1); round++) {
    if (a.slack > 0) {
      const q = sectionOf(b, t)
      s = leastOnThick(x => apart(sectionOf(a, x), q), a)
    }
    if (b.slack > 0) {
      const p = sectionOf(a, s)
      t = leastOnThick(x => apart(p, sectionOf(b, x)), b)
    }
  }
  return { s, t }
}

type Writable<T> = { -readonly [K in keyof T]: T[K] }

/** A body that stands in for a stretch exactly: a line's, or the disc of an end that an arc comes to. */
interface Body {
  readonly body: Convex
  /** What is around the body still. */
  readonly radius: number
  readonly nearestTo: (p: Vec3) => Vec3
  /** Place on the stretch's shape when it has but one. */
  readonly t: number | null
}

function bodiesOf(swept: Swept, s: Stretch): Body[] {
  if (s.slack > 0)
    return s.nearCut
      ? cutPlaces(swept, s.index).map(t => {
          const { at, way } = sectionOnShape(s.shape, t)
          const nearestTo = (p: Vec3) => nearestOnDisc(at, way, s.radius, p)
          return { body: discAt(s.shape, t, s.radius), radius: 0, nearestTo, t }
        })
      : []
  if (!s.nearCut)
    return [
      { body: coreOf(s), radius: s.radius, nearestTo: p => s.pointAt(nearestParameter(s.shape, p)), t: null },
    ]
  const rod = cylinderBetween(s.a, s.b, s.radius, s.shape.direction)
  const nearestTo = (p: Vec3) => {
    const { value, gradient } = rod.signedDistance(p)
    return addScaled(p, gradient, -Math.max(value, 0))
  }
  return [{ body: s.flat, radius: 0, nearestTo, t: null }]
}

/** Where a shape ends in a cut: its parameters there. */
export function cutPlaces(swept: Swept, index: number): number[] {
  const shape = swept.shapes[index]!
  const last = shape.kind === 'arc' ? shape.angleRad : 1
  return [...(index === 0 ? [0] : []), ...(index === swept.shapes.length - 1 ? [last] : [])]
}

const ALL = [-Infinity, Infinity] as const

/** Sine of what a way may lean and still be square: rounding of the place, far under any tolerance. */
const LEANS = 1e-6

/** Whether `way` (unit, or 0) is square to the rod at a place, so that the ball there reaches no farther than the section. */
export const isSquare = (s: Stretch, t: number, way: Vec3): boolean =>
  !s.nearCut || Math.abs(dot(sectionOnShape(s.shape, t).way, way)) <= LEANS

/** Whether a rod is thicker than its bend's radius: then its sections reach past the axis and are nearest there, too. */
export const isThick = ({ shape, radius }: Stretch): boolean => shape.kind === 'arc' && radius > shape.radius

/** A distance of sections may have a dip at either end of a stretch and one between: each part is looked at by itself. */
const PARTS = 3

/** Where on a stretch of a thick rod a distance of its sections is least. */
export function leastOnThick(apart: (t: number) => number, { from, to }: Stretch): number {
  const at = (k: number) => from + ((to - from) * k) / PARTS
  const places = Array.from({ length: PARTS }, (_, k) => leastOver(apart, at(k), at(k + 1)))
  return places.reduce((p, q) => (apart(q) < apart(p) ? q : p))
}

/** What a stretch is at one place: near a cut a disc, or the whole flat rod of a line; else a ball. */
function sectionOf(s: Stretch, t: number): Pick<Body, 'body' | 'radius'> {
  if (s.nearCut) return { body: s.slack > 0 ? discAt(s.shape, t, s.radius) : s.flat, radius: 0 }
  if (s.slack === 0) return { body: coreOf(s), radius: s.radius }
  const at = pointOnShape(s.shape, t)
  return { body: supportOnly(() => at, at), radius: s.radius }
}

/** Where an arc's centre line comes nearest to a body. */
function onArc(p: Body, arc: Stretch, within: readonly [number, number]): number {
  const away = (t: number) => {
    const q = pointOnShape(arc.shape, t)
    return distance(p.nearestTo(q), q)
  }
  const [from, to] = around(arc)
  return leastOver(away, Math.max(from, within[0]), Math.min(to, within[1]))
}

/** An arc's stretch with as much again on either side, radians: the least place may lie just across its border. */
export const around = ({ shape, from, to }: Stretch): readonly [number, number] => {
  const whole = shape.kind === 'arc' ? shape.angleRad : 1
  return [Math.max(2 * from - to, 0), Math.min(2 * to - from, whole)]
}

const turnAt = (swept: Swept, s: Stretch, t: number): number =>
  swept.turns[s.index]! + (s.shape.kind === 'arc' ? t : 0)
