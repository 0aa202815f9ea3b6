import type { Box } from './paper.ts'
import { textWidth } from './paperFont.ts'
import type { Point } from './pictureShape.ts'
import { Places } from './placeLabels.ts'

/** A leg whose number wants a place, in the picture's units. */
export interface LegToLabel {
  readonly text: string
  readonly tip: Point
  /** Half the width of the leg. */
  readonly half: number
}

/** A line of the picture that labels keep off. A point where both ends are one. */
export interface Ink {
  readonly from: Point
  readonly to: Point
  readonly half: number
}

export interface PlacedLabel {
  readonly text: string
  readonly centre: Point
  /** Of the ring round a leg's number; null for a word without one. */
  readonly ring: number | null
  /** From the leg's tip to the ring, where the ring does not stand at the tip; else null. */
  readonly leader: readonly [Point, Point] | null
}

export interface TurnLabelsJob {
  /** Labels stay inside, rings too. */
  readonly inside: Box
  /** Font size, in the picture's units. */
  readonly size: number
  readonly legs: readonly LegToLabel[]
  /** All that is drawn besides labels. */
  readonly ink: readonly Ink[]
  /** The die's outline: its word stands at it, the legs' numbers elsewhere if there is room. */
  readonly die: Box
}

/** Least radius of a number's ring, in font sizes. */
const RING = 0.66
/** Height of a figure, in font sizes. */
const CAPITAL = 0.73
/** What two things keep from each other, in font sizes. */
const AIR = 0.07
/** Directions tried round a leg's tip, degrees off the leg's own. */
const ROUND = [0, 25, -25, 50, -50, 75, -75, 100, -100]

/**
 * A place for every leg's number and for the word "die": first at the tip, then beside the leg, then wherever in the
 * picture there is room, so that no two labels meet and none lies on what is drawn. A number that stands away from its
 * leg has a line to it. The picture's corners lie past every leg, so there is always a place.
 *
 * @throws RangeError when the box is too small for that.
 */
export function placeTurnLabels({ inside, size, legs, ink, die }: TurnLabelsJob): PlacedLabel[] {
  const air = AIR * size
  const taken = new Places(inside)
  for (const { from, to, half } of ink) taken.lines.push({ from, to, half: half + air })
  const placed: PlacedLabel[] = []
  for (const leg of legs) {
    const ring = Math.max(RING, Math.hypot(textWidth(leg.text, 1, true) / 2, CAPITAL / 2) + AIR) * size
    const outward = directionOf(leg.tip)
    const candidates = [
      ...ROUND.map((deg): Point => along(leg.tip, turned(outward, deg), leg.half + ring + 2 * air)),
      ...besideLeg(leg, outward, leg.half + ring + 2 * air),
      ...everywhere(inside, ring, leg.tip),
    ]
    const ringAt = (centre: Point) => boxAbout(centre, 2 * ring, 2 * ring)
    const leaderTo = (centre: Point): readonly [Point, Point] | null => {
      const gap = Math.hypot(centre[0] - leg.tip[0], centre[1] - leg.tip[1])
      const rim = along(leg.tip, directionOf([centre[0] - leg.tip[0], centre[1] - leg.tip[1]]), gap - ring)
      return gap - ring - leg.half > 4 * air ? [leg.tip, rim] : null
    }
    const others = ink.filter(l => l.to !== leg.tip && l.half > 0)
    const good = (centre: Point, strict: boolean) => {
      const box = ringAt(centre)
      const leader = leaderTo(centre)
      if (!taken.free(box) || (leader && !taken.clear(...leader))) return false
      if (!strict) return true
      return !meets(box, die) && !(leader && others.some(l => crosses(leader, l)))
    }
    const centre = candidates.find(c => good(c, true)) ?? candidates.find(c => good(c, false))
    if (centre === undefined)
      throw new RangeError(`turn picture: found no place for "${leg.text}", wanted a larger box`)
    const leader = leaderTo(centre)
    taken.take(ringAt(centre))
    if (leader) taken.lines.push({ from: leader[0], to: leader[1], half: air })
    placed.push({ text: leg.text, centre, ring, leader })
  }
  const word = { text: 'die', w: textWidth('die', size) * 1.1, h: 0.8 * size }
  const at = [...roundDie(die, word, air), ...everywhere(inside, word.w / 2, middleOf(die))]
  const centre = at.find(c => taken.free(boxAbout(c, word.w, word.h)))
  if (centre === undefined)
    throw new RangeError('turn picture: found no place for "die", wanted a larger box')
  return [...placed, { text: word.text, centre, ring: null, leader: null }]
}

const boxAbout = ([x, y]: Point, w: number, h: number): Box => ({ x: x - w / 2, y: y - h / 2, w, h })
const middleOf = ({ x, y, w, h }: Box): Point => [x + w / 2, y + h / 2]
const along = ([x, y]: Point, [dx, dy]: Point, by: number): Point => [x + dx * by, y + dy * by]
const meets = (a: Box, b: Box) => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h

function directionOf([x, y]: Point): Point {
  const l = Math.hypot(x, y)
  return l < 1e-9 ? [0, -1] : [x / l, y / l]
}

function turned([x, y]: Point, deg: number): Point {
  const rad = (deg * Math.PI) / 180
  return [x * Math.cos(rad) - y * Math.sin(rad), x * Math.sin(rad) + y * Math.cos(rad)]
}

/** On either side of the leg, from its tip inwards. */
const besideLeg = ({ tip }: LegToLabel, outward: Point, off: number): Point[] =>
  [0, 0.12, 0.25, 0.38].flatMap(back => {
    const foot: Point = [tip[0] * (1 - back), tip[1] * (1 - back)]
    return [1, -1].map(side => along(foot, [0 - side * outward[1], side * outward[0]], off))
  })

/** A grid over the picture, its corners and sides included, nearest first. */
function everywhere({ x, y, w, h }: Box, margin: number, from: Point): Point[] {
  const steps = 24
  const at = (start: number, length: number, i: number) =>
    start + margin + ((length - 2 * margin) * i) / steps
  const all: Point[] = []
  for (let i = 0; i <= steps; i++) for (let j = 0; j <= steps; j++) all.push([at(x, w, i), at(y, h, j)])
  const far = ([px, py]: Point) => Math.hypot(px - from[0], py - from[1])
  return all.sort((a, b) => far(a) - far(b))
}

/** Under the die and over it, from its outer end inwards, then on it. */
function roundDie(die: Box, { w, h }: { readonly w: number; readonly h: number }, air: number): Point[] {
  const outer = die.x < 0 ? die.x + w / 2 : die.x + die.w - w / 2
  const inner = die.x < 0 ? die.x + die.w - w / 2 : die.x + w / 2
  const places = [0, 0.33, 0.66, 1].map(t => outer + (inner - outer) * t)
  const [under, over] = [die.y + die.h + h / 2 + 2 * air, die.y - h / 2 - 2 * air]
  return [
    ...places.map((x): Point => [x, under]),
    ...places.map((x): Point => [x, over]),
    ...places.map((x): Point => [x, die.y + die.h / 2]),
  ]
}

function crosses([a, b]: readonly [Point, Point], { from, to }: Ink): boolean {
  const side = (p: Point, q: Point, r: Point) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
  return side(a, b, from) * side(a, b, to) < 0 && side(from, to, a) * side(from, to, b) < 0
}
