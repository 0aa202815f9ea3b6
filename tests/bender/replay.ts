/**
 * A bender and a piece of stock, played by the numbers a fabricator would follow. Imports nothing: its own
 * vectors, its own idea of tube. If what comes out is the route, the numbers are right.
 */

export type P = [number, number, number]

/** What the fabricator is told for one bend. */
export interface ReplayStep {
  /** Which end of the stock goes through the clamp first. */
  readonly lead: 'A' | 'B'
  /** Pencil mark on the straight stock, mm from the leading end. */
  readonly mark: number
  /** Degrees, clockwise seen from the tail towards the bender; null: as it lies. */
  readonly turn: number | null
  /** Angle that stays, degrees. */
  readonly angle: number
  /** Settled radius and the stock that goes into the bend, mm. */
  readonly radius: number
  readonly stockUsed: number
}

export interface ReplayBench {
  readonly hand: 'left' | 'right'
  readonly kind: 'rotaryDraw' | 'compression'
  /** The die's reference line, mm behind the tangent point towards the tail. */
  readonly referenceOffset: number
}

/** A rigid straight of the tube: stock coordinates from end A, where its A end is, its heading A→B and its seam. */
export interface Straight {
  from: number
  to: number
  at: P
  heading: P
  seam: P
}

/** The tube seated for a step, the tangent point at the origin, +x towards the clamp, +z up. */
export interface Seated {
  readonly step: number
  /** As the step before left it (or swinging it end for end), and turned for this bend. */
  readonly before: readonly Straight[]
  readonly turned: readonly Straight[]
  /** Which of them is held. */
  readonly held: number
}

const plus = (a: P, b: P, s = 1): P => [a[0] + b[0] * s, a[1] + b[1] * s, a[2] + b[2] * s]
const dot = (a: P, b: P) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const crossed = (a: P, b: P): P => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const unit = (a: P): P => {
  const l = Math.hypot(a[0], a[1], a[2])
  return [a[0] / l, a[1] / l, a[2] / l]
}
/** About +z, counter-clockwise seen from above. */
const aboutZ = (v: P, rad: number): P => {
  const [c, s] = [Math.cos(rad), Math.sin(rad)]
  return [v[0] * c - v[1] * s, v[0] * s + v[1] * c, v[2]]
}
/** About +x; looking along +x (the operator at the tail) this is clockwise. */
const aboutX = (v: P, rad: number): P => {
  const [c, s] = [Math.cos(rad), Math.sin(rad)]
  return [v[0], v[1] * c - v[2] * s, v[1] * s + v[2] * c]
}
const RAD = Math.PI / 180

/**
 * The finished tube: its straights in order from end A to end B, each with both end points, in some frame.
 * Throws when a bend would be made where the tube is no longer straight.
 */
export function replay(
  stock: number,
  bench: ReplayBench,
  steps: readonly ReplayStep[],
  see?: (seated: Seated) => void,
): { start: P; end: P }[] {
  let tube: Straight[] = [{ from: 0, to: stock, at: [0, 0, 0], heading: [-1, 0, 0], seam: [0, 0, 1] }]
  const left = bench.hand === 'left' ? 1 : -1
  /** Where the seam stands at the die, as seen in the bench frame; the tube starts with it on top. */
  let seam: P = [0, 0, 1]
  let lead: 'A' | 'B' | null = null

  for (const [index, step] of steps.entries()) {
    if (lead !== null && lead !== step.lead) seam = aboutZ(seam, Math.PI)
    lead = step.lead
    const untouched = seam
    if (step.turn !== null) seam = aboutX(seam, step.turn * RAD)
    const tangent = step.mark - bench.referenceOffset
    const [low, high] =
      lead === 'A' ? [tangent, tangent + step.stockUsed] : [stock - tangent - step.stockUsed, stock - tangent]
    const k = tube.findIndex(s => s.from <= low + 1e-6 && s.to >= high - 1e-6)
    const held = tube[k]
    if (held === undefined) throw new Error(`no straight stock from ${low} to ${high}`)

    // Seat the tube: the tangent point at the origin, the leading end towards +x, the seam where it was turned to.
    const startOfBend = plus(held.at, held.heading, (lead === 'A' ? low : high) - held.from)
    const ahead: P = lead === 'A' ? [-held.heading[0], -held.heading[1], -held.heading[2]] : held.heading
    const side = crossed(ahead, held.seam)
    const seatedWith = (up: P): Straight[] => {
      const across = crossed([1, 0, 0], up)
      const seat = (v: P): P => plus(plus([dot(v, ahead), 0, 0], up, dot(v, held.seam)), across, dot(v, side))
      return tube.map(s => ({
        ...s,
        at: seat(plus(s.at, startOfBend, -1)),
        heading: seat(s.heading),
        seam: seat(s.seam),
      }))
    }
    const before = seatedWith(untouched)
    tube = seatedWith(seam)
    see?.({ step: index, before, turned: tube, held: k })

    const seated = tube[k]!
    const cut = (from: number, to: number): Straight => ({
      ...seated,
      from,
      to,
      at: plus(seated.at, seated.heading, from - seated.from),
    })
    const towardsA = [...tube.slice(0, k), cut(seated.from, low)]
    const towardsB = [cut(high, seated.to), ...tube.slice(k + 1)]
    const front = lead === 'A' ? towardsA : towardsB
    const tail = lead === 'A' ? towardsB : towardsA
    const angle = step.angle * RAD
    const centre: P = [0, left * step.radius, 0]
    const swing = (by: number) => (s: Straight) => ({
      ...s,
      at: plus(centre, aboutZ(plus(s.at, centre, -1), by)),
      heading: aboutZ(s.heading, by),
      seam: aboutZ(s.seam, by),
    })
    const shift = (by: number) => (s: Straight) => ({ ...s, at: plus(s.at, [by, 0, 0]) })
    // The stock in the bend has left the straight: the tail begins at the die's tangent point.
    const fed = tail.map(shift(step.stockUsed))
    const [movedFront, movedTail] =
      bench.kind === 'rotaryDraw'
        ? [front.map(swing(left * angle)), fed]
        : [front, fed.map(swing(-left * angle))]
    tube = lead === 'A' ? [...movedFront, ...movedTail] : [...movedTail, ...movedFront]
  }
  return tube.map(s => ({ start: s.at, end: plus(s.at, s.heading, s.to - s.from) }))
}

/**
 * Lays the tube's straights onto the wanted ones by a proper motion (never a mirror image): first point, first
 * heading, plane of the first bend. Gives the largest distance between corresponding points, mm.
 */
export function misfit(got: readonly { start: P; end: P }[], want: readonly { start: P; end: P }[]): number {
  if (got.length !== want.length) return Infinity
  const a = frameOf(got)
  const b = frameOf(want)
  let worst = 0
  got.forEach((s, i) => {
    for (const end of ['start', 'end'] as const) {
      const v = plus(s[end], got[0]!.start, -1)
      const moved = a.reduce<P>((p, axis, j) => plus(p, b[j]!, dot(v, axis)), want[0]!.start)
      worst = Math.max(worst, Math.hypot(...plus(moved, want[i]![end], -1)))
    }
  })
  return worst
}

function frameOf(tube: readonly { start: P; end: P }[]): [P, P, P] {
  const x = unit(plus(tube[0]!.end, tube[0]!.start, -1))
  const second = tube[1] === undefined ? null : plus(tube[1].end, tube[1].start, -1)
  const across: P = second ?? (Math.abs(x[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0])
  const y = unit(plus(across, x, -dot(across, x)))
  return [x, y, crossed(x, y)]
}
