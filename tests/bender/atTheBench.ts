/**
 * What an eye at the tail and a tape on the part find on a replayed tube. Knows points and directions only: nothing of
 * planes, rotations or the formulas of the program.
 */
import type { P, Seated, Straight } from './replay.ts'

interface Steps {
  readonly cutLength: number
  readonly steps: readonly {
    readonly bend: number
    readonly lead: 'A' | 'B'
    readonly mark: number
    readonly stockUsed: number
  }[]
  readonly trim: number
}

const plus = (a: P, b: P, s = 1): P => [a[0] + b[0] * s, a[1] + b[1] * s, a[2] + b[2] * s]
const dot = (a: P, b: P) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const unit = (a: P): P => {
  const l = Math.hypot(...a)
  return [a[0] / l, a[1] / l, a[2] / l]
}
/** What of `a` is square to the unit vector `b`, made unit. */
const square = (a: P, b: P): P => unit(plus(a, b, -dot(a, b)))
const turned = (d: P): P => [-d[0], -d[1], -d[2]]

/** Clockwise from straight up for someone who looks along +x: right is −y. Null when the direction is along x. */
function clock(d: P): number | null {
  if (Math.hypot(d[1], d[2]) < 1e-6) return null
  const right = -d[1]
  const up = d[2]
  // From the quadrant and the size of the angle to straight up.
  const off = Math.acos(Math.max(-1, Math.min(1, up / Math.hypot(right, up)))) * (180 / Math.PI)
  return right >= 0 ? off : 360 - off
}

/** Where the middle of every leg lies along the stock, mm from end A. `straights` include what goes into the fittings. */
function middles(straights: readonly number[], { steps, trim }: Steps): number[] {
  const used = [...steps].sort((a, b) => a.bend - b.bend).map(s => s.stockUsed)
  let at = steps[0]?.lead === 'B' ? trim : 0
  return straights.map((s, k) => {
    const middle = at + s / 2
    at += s + (used[k] ?? 0)
    return middle
  })
}

/** Where every leg points away from the die, before the turn and after it. */
export function legsSeen(
  { before, turned: after, held, step }: Seated,
  straights: readonly number[],
  layout: Steps,
): { clock: number | null; clockBefore: number | null; ahead: boolean }[] {
  const { lead } = layout.steps[step]!
  const bend = layout.steps[step]!.bend
  return middles(straights, layout).map((at, leg) => {
    const k = after.findIndex(s => s.from < at && at < s.to)
    const towardsA = k < held || (k === held && leg <= bend)
    const away = (s: Straight) => clock(towardsA ? turned(s.heading) : s.heading)
    return { clock: away(after[k]!), clockBefore: away(before[k]!), ahead: towardsA === (lead === 'A') }
  })
}

/** What a tape reads on the part from an end, or from the back of a bend, to the mark, mm. */
export function measuredOnPart(
  { turned: tube, held }: Seated,
  { cutLength, steps }: Steps,
  step: Steps['steps'][number],
  from: string,
  od: number,
): number {
  const straight = tube[held]!
  const along = step.lead === 'A' ? step.mark : cutLength - step.mark
  if (along < straight.from - 1e-9 || along > straight.to + 1e-9)
    throw new Error('the mark is not on the straight')
  const mark = plus(straight.at, straight.heading, along - straight.from)
  const end = /^end ([AB])$/.exec(from)
  if (end) {
    const stops = end[1] === 'A' ? straight.from : straight.to
    if (Math.abs(stops - (end[1] === 'A' ? 0 : cutLength)) > 1e-9)
      throw new Error(`no straight tube runs to ${from}`)
    return Math.hypot(...plus(plus(straight.at, straight.heading, stops - straight.from), mark, -1))
  }
  const named = Number(/^back of bend (\d+)$/.exec(from)![1]) - 1
  const made = steps.slice(0, steps.indexOf(step)).map(s => s.bend)
  const towardsA = named < step.bend
  const beside = made.filter(b => b < step.bend === towardsA)
  if (named !== (towardsA ? Math.max(...beside) : Math.min(...beside)))
    throw new Error(`the straight does not end at bend ${named + 1}`)
  const leg = tube[held + (towardsA ? -1 : 1)]!
  const out = towardsA ? turned(straight.heading) : straight.heading
  const beyond = towardsA ? turned(leg.heading) : leg.heading
  const inside = square(beyond, out)
  const tangent = plus(
    straight.at,
    straight.heading,
    (towardsA ? straight.from : straight.to) - straight.from,
  )
  const legStarts = plus(leg.at, leg.heading, (towardsA ? leg.to : leg.from) - leg.from)
  if (dot(out, beyond) >= 0) {
    // Two straightedges, one on the outside of either leg: where they cross.
    const held2 = plus(mark, inside, -od / 2)
    const other = plus(legStarts, square(turned(out), beyond), -od / 2)
    const d = plus(other, held2, -1)
    const across = dot(beyond, inside)
    const t = dot(d, inside) / across
    return dot(plus(d, beyond, -t), out)
  }
  // A square on the straight, slid on until it touches the outside of the bend.
  const radius = Math.hypot(...plus(legStarts, tangent, -1)) / (2 * Math.sin(Math.acos(dot(out, beyond)) / 2))
  const centre = plus(tangent, inside, radius)
  let far = -Infinity
  for (let i = 0; i <= 20_000; i++) {
    const a = (Math.PI * i) / 20_000
    const onBack = plus(
      plus(centre, inside, -(radius + od / 2) * Math.cos(a)),
      out,
      (radius + od / 2) * Math.sin(a),
    )
    far = Math.max(far, dot(plus(onBack, mark, -1), out))
  }
  return far
}
