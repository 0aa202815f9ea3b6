import { expect, it } from 'vitest'
import { layOut, orderFrom, stockOf } from '../../src/bender/layOut.ts'
import { backBeyondTangent } from '../../src/bender/onPart.ts'
import { stepsAtDie } from '../../src/bender/stepAtDie.ts'
import { backPicture, howToMeasure } from '../../src/outputs/backPicture.ts'
import { textWidth } from '../../src/outputs/paperFont.ts'
import type { PictureShape, Point } from '../../src/outputs/pictureShape.ts'
import { TURN_TEXT, turnPicture } from '../../src/outputs/turnPicture.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { legsSeen } from '../bender/atTheBench.ts'
import { seeded } from '../bender/random.ts'
import { randomRun, shuffled } from '../bender/randomRun.ts'
import { replay, type Seated } from '../bender/replay.ts'

/** Degrees clockwise from straight up of a point of the picture, seen from the tube's axis. */
const clockAt = ([x, y]: Point): number => (Math.atan2(x, -y) * 180) / Math.PI
const apart = (a: number, b: number): number => Math.abs(((a - b + 900) % 360) - 180)
const lineOf = (shapes: readonly PictureShape<string>[], part: string): readonly Point[] | null => {
  const found = shapes.find(s => s.kind === 'line' && s.part === part)
  return found?.kind === 'line' ? found.points : null
}

const seed = 31007
it(`the turn picture draws the legs where a replay has them, and its arrow goes the way of the turn (seed ${seed})`, () => {
  const next = seeded(seed)
  let near = 0
  for (let n = 0; n < 300; n++) {
    const bends = 2 + Math.floor(next() * 5)
    const { run, tooling } = randomRun(next, bends)
    const hand = next() < 0.5 ? ('left' as const) : ('right' as const)
    const kind = next() < 0.5 ? ('rotaryDraw' as const) : ('compression' as const)
    const order: OrderedBend[] = shuffled(next, orderFrom('A', bends)).map(o => ({
      ...o,
      lead: next() < 0.5 ? 'A' : 'B',
    }))
    const layout = layOut(run, tooling, null, { hand, kind, order })
    const stock = stockOf(run)
    const seen: Seated[] = []
    replay(layout.cutLength, { hand, kind, referenceOffset: tooling.referenceOffset }, layout.steps, s =>
      seen.push(s),
    )
    stepsAtDie(layout, stock, tooling.od).forEach((step, i) => {
      const { shapes, legend, inWords } = turnPicture(step, hand)
      const legs = legsSeen(seen[i]!, stock.straights, layout)
      const primary = step.pointers.find(p => !p.ahead) ?? step.pointers[0]
      expect(shapes.some(s => s.kind === 'line' && ['far', 'near'].includes(s.part))).toBe(i > 0)
      for (const { leg, ahead } of step.pointers) {
        const want = legs[leg - 1]!
        const part = ahead ? 'far' : 'near'
        expect(want.ahead).toBe(ahead)
        expect(apart(clockAt(lineOf(shapes, part)![1]!), want.clock!)).toBeLessThan(1e-6)
        expect(apart(clockAt(lineOf(shapes, `${part}Before`)![1]!), want.clockBefore!)).toBeLessThan(1e-6)
        expect(legend.join(' ')).toContain(`leg ${leg}, ${ahead ? 'beyond' : 'on your side of'} the die`)
        expect(inWords).toContain(`leg ${leg}, `)
        if (!ahead) near++
      }
      const arrow = lineOf(shapes, 'arrow')
      const turn = step.step.turn ?? 0
      if (arrow) {
        expect(apart(clockAt(arrow[0]!), primary!.clockBefore)).toBeLessThan(1e-6)
        // Added up along the arc, so that a way round the other side shows.
        const swept = arrow.slice(1).reduce((sum, p, k) => {
          const by = clockAt(p) - clockAt(arrow[k]!)
          return sum + by - 360 * Math.round(by / 360)
        }, 0)
        expect(Math.sign(swept)).toBe(Math.sign(turn))
        // The head ends at the edge of the leg that it points to, on the side from which the leg comes.
        const head = shapes.find(s => s.kind === 'area' && s.part === 'arrowHead')
        const tip = head?.kind === 'area' ? head.points[0]! : null
        const leg = lineOf(shapes, primary!.ahead ? 'far' : 'near')![1]!
        const width = shapes.find(s => s.kind === 'line' && s.points[1] === leg)
        const half = width?.kind === 'line' ? width.width / 2 : Number.NaN
        const off = (tip![0] * leg[1] - tip![1] * leg[0]) / Math.hypot(...leg)
        const beyond = Math.abs(off) - half
        if (Math.abs(turn) > 40 && Math.abs(turn) < 140) expect(Math.abs(beyond - 1)).toBeLessThan(0.01)
        const short = Math.sign(turn) * (turn - swept)
        expect(short).toBeGreaterThan(0)
        expect(short).toBeLessThan(14 + (Math.asin((half + 1) / Math.hypot(...tip!)) * 180) / Math.PI + 1e-6)
      } else expect(turn).toBe(0)
    })
  }
  expect(near).toBeGreaterThan(100)
})

/** What an operator reads in a picture and what else is drawn in it, as boxes and lines of its own making. */
function marksOf(shapes: readonly PictureShape<string>[], size: number) {
  const rings: { centre: Point; r: number }[] = []
  const texts: Rect[] = []
  const lines: { a: Point; b: Point; half: number; part: string }[] = []
  for (const s of shapes) {
    if (s.kind === 'text') {
      const w = textWidth(s.text, size, s.bold)
      const x = s.anchor === 'middle' ? s.x - w / 2 : s.anchor === 'end' ? s.x - w : s.x
      texts.push({ x0: x, x1: x + w, y0: s.y - 0.73 * size, y1: s.y, text: s.text, bold: s.bold })
    } else if (s.part.endsWith('Ring')) {
      const [xs, ys] = [s.points.map(p => p[0]), s.points.map(p => p[1])]
      const r = (Math.max(...xs) - Math.min(...xs)) / 2
      rings.push({ centre: [Math.min(...xs) + r, (Math.max(...ys) + Math.min(...ys)) / 2], r })
    } else if (!['die', 'bore', 'behind'].includes(s.part)) {
      const points = s.kind === 'area' ? [...s.points, s.points[0]!] : s.points
      points.slice(1).forEach((b, i) => {
        lines.push({ a: points[i]!, b, half: s.kind === 'line' ? s.width / 2 : 0, part: s.part })
      })
    }
  }
  return { rings, texts, lines }
}
interface Rect {
  x0: number
  x1: number
  y0: number
  y1: number
  text: string
  bold: boolean
}
const toPoint = (p: Point, a: Point, b: Point): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const l = dx * dx + dy * dy
  const t = l === 0 ? 0 : Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / l))
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)
}
/** True when a line of some width comes into a rectangle: looked for at many places along it. */
const entersRect = ({ x0, x1, y0, y1 }: Rect, a: Point, b: Point, half: number): boolean =>
  Array.from({ length: 101 }, (_, i) => i / 100).some(t => {
    const [x, y] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
    return Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1)) < half
  })

const LABELS_SEED = 77120
it(`in the turn picture no label meets another, a leg, a dotted line or the arrow, and none leaves it (seed ${LABELS_SEED})`, () => {
  const next = seeded(LABELS_SEED)
  let [together, pictures] = [0, 0]
  for (let n = 0; n < 220; n++) {
    const bends = 2 + Math.floor(next() * 5)
    const { run, tooling } = randomRun(next, bends)
    const hand = next() < 0.5 ? ('left' as const) : ('right' as const)
    const kind = next() < 0.5 ? ('rotaryDraw' as const) : ('compression' as const)
    const order: OrderedBend[] = shuffled(next, orderFrom('A', bends)).map(o => ({
      ...o,
      lead: next() < 0.5 ? 'A' : 'B',
    }))
    const layout = layOut(run, tooling, null, { hand, kind, order })
    for (const step of stepsAtDie(layout, stockOf(run), tooling.od)) {
      // Legs of real runs rarely lie one on the other: some are put there.
      const [first, second] = step.pointers
      const put = first && second && next() < 0.4
      const off = next() < 0.5 ? 0 : 12 * (next() - 0.5)
      const seen = put
        ? { ...step, pointers: [first, { ...second, clock: (first.clock + off + 360) % 360 }] }
        : step
      if (put) together++
      const number = {
        ...seen,
        pointers: seen.pointers.map(p => ({ ...p, leg: p.leg + (next() < 0.3 ? 95 : 0) })),
      }
      for (const labelling of [undefined, { text: 2.2 / 0.058, bench: false }]) {
        const { shapes, box } = turnPicture(number, hand, labelling)
        const size = labelling?.text ?? TURN_TEXT
        const { rings, texts, lines } = marksOf(shapes, size)
        const [left, top, width, height] = box
        pictures++
        expect(rings).toHaveLength(seen.pointers.length)
        expect(texts.map(t => t.text)).toContain('die')
        for (const { centre, r } of rings) {
          expect(centre[0] - r).toBeGreaterThanOrEqual(left)
          expect(centre[0] + r).toBeLessThanOrEqual(left + width)
          expect(centre[1] - r).toBeGreaterThanOrEqual(top)
          expect(centre[1] + r).toBeLessThanOrEqual(top + height)
          for (const l of lines)
            if (l.part !== 'leader')
              expect(toPoint(centre, l.a, l.b), l.part).toBeGreaterThan(r + l.half - 1e-6)
            else expect(toPoint(centre, l.a, l.b), l.part).toBeGreaterThan(r - 0.2)
          for (const t of texts) {
            const [dx, dy] = [
              Math.max(t.x0 - centre[0], 0, centre[0] - t.x1),
              Math.max(t.y0 - centre[1], 0, centre[1] - t.y1),
            ]
            // A number stands in its own ring, whole; every other word is outside of it.
            const inside = Math.hypot((t.x1 - t.x0) / 2, (t.y1 - t.y0) / 2) <= r
            if (t.bold && dx === 0 && dy === 0) expect(inside, t.text).toBe(true)
            else expect(Math.hypot(dx, dy)).toBeGreaterThan(r)
          }
        }
        const [a, b] = rings
        if (a && b)
          expect(Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1])).toBeGreaterThan(a.r + b.r)
        for (const t of texts) {
          expect(t.x0).toBeGreaterThanOrEqual(left)
          expect(t.x1).toBeLessThanOrEqual(left + width)
          expect(t.y0).toBeGreaterThanOrEqual(top)
          expect(t.y1).toBeLessThanOrEqual(top + height)
          if (!t.bold)
            for (const l of lines) expect(entersRect(t, l.a, l.b, l.half), `${t.text} ${l.part}`).toBe(false)
          for (const o of texts)
            if (o !== t)
              expect(
                t.x1 <= o.x0 || o.x1 <= t.x0 || t.y1 <= o.y0 || o.y1 <= t.y0,
                `${t.text} ${o.text}`,
              ).toBe(true)
        }
        const hidden = shapes.filter(s => s.kind === 'line' && s.part === 'behind')
        expect(hidden).toHaveLength(put && Math.abs(off) < 6 ? 1 : hidden.length)
      }
    }
  }
  expect(together).toBeGreaterThan(60)
  expect(pictures).toBeGreaterThan(1000)
}, 60_000)

it('of two legs that lie one on the other in the turn picture the hidden one is dashed, and said so', () => {
  const next = seeded(LABELS_SEED + 1)
  const { run, tooling } = randomRun(next, 4)
  const order: OrderedBend[] = [0, 3, 1, 2].map(bend => ({ bend, lead: 'A' }))
  const layout = layOut(run, tooling, null, { hand: 'left', kind: 'rotaryDraw', order })
  const step = stepsAtDie(layout, stockOf(run), tooling.od)[2]!
  const [far, near] = step.pointers
  const at = (clock: number) => turnPicture({ ...step, pointers: [far!, { ...near!, clock }] }, 'left')
  const same = at(far!.clock)
  const dashes = lineOf(same.shapes, 'behind')!
  expect(apart(clockAt(dashes[1]!), far!.clock)).toBeLessThan(1e-6)
  expect(same.legend).toContain(`Dashed: leg ${far!.leg}, behind leg ${near!.leg}.`)
  expect(lineOf(at((far!.clock + 40) % 360).shapes, 'behind')).toBeNull()
})

it('the turn picture has the die on the side of the bender’s hand', () => {
  const next = seeded(seed + 1)
  const { run, tooling } = randomRun(next, 3)
  for (const hand of ['left', 'right'] as const) {
    const layout = layOut(run, tooling, null, { hand, kind: 'rotaryDraw', order: orderFrom('A', 3) })
    const { shapes } = turnPicture(stepsAtDie(layout, stockOf(run), 12)[1]!, hand)
    const die = shapes.find(s => s.kind === 'area' && s.part === 'die')
    const xs = die?.kind === 'area' ? die.points.map(p => p[0]) : []
    expect(hand === 'left' ? Math.max(...xs) < 0 : Math.min(...xs) > 0).toBe(true)
  }
})

it('the picture of a back has straightedge or square where the tape ends, for every angle', () => {
  for (let angle = 5; angle <= 175; angle += 5) {
    const onPart = { from: 'back of bend 2', distance: 100, back: { bend: 2, leg: 3, angle } } as const
    const { shapes, box, inWords } = backPicture(onPart, '100.0 mm')!
    const edge = lineOf(shapes, 'edge')!
    const tube = lineOf(shapes, 'tube')!
    const tape = lineOf(shapes, 'tape')!
    const reach = tape[1]![0]
    const [a, b] = [edge[0]!, edge[1]!]
    // The tube is drawn 22 wide with a centre-line radius of 44.
    const outside = 11
    expect(reach).toBeCloseTo(backBeyondTangent(44, angle, 22), 9)
    if (angle > 90) {
      expect([a[0], b[0]]).toEqual([reach, reach])
      const farthest = Math.max(...tube.map(p => p[0]))
      expect(Math.abs(farthest + outside - reach)).toBeLessThan(angle > 100 ? 0.2 : 3)
      expect(inWords).toMatch(/^Square on the straight, against the back of bend 2/)
    } else {
      // The straightedge lies on the outside of the leg beyond: as far from its axis as the tube is thick there.
      const tip = tube.at(-1)!
      const length = Math.hypot(b[0] - a[0], b[1] - a[1])
      const off = ((b[0] - a[0]) * (tip[1] - a[1]) - (b[1] - a[1]) * (tip[0] - a[0])) / length
      expect(Math.abs(off)).toBeCloseTo(outside, 6)
      // And it passes through the corner at the end of the tape, on the outside of the straight.
      const corner = ((b[0] - a[0]) * (outside - a[1]) - (b[1] - a[1]) * (reach - a[0])) / length
      expect(corner).toBeCloseTo(0, 6)
      expect(inWords).toMatch(/^Straightedge along the outside of leg 3/)
    }
    for (const shape of shapes)
      for (const [x, y] of shape.kind === 'text' ? [[shape.x, shape.y] as Point] : shape.points) {
        expect(x).toBeGreaterThanOrEqual(box[0])
        expect(x).toBeLessThanOrEqual(box[0] + box[2])
        expect(y).toBeGreaterThanOrEqual(box[1])
        expect(y).toBeLessThanOrEqual(box[1] + box[3])
      }
  }
  expect(backPicture({ from: 'end A', distance: 5, back: null }, '5.0 mm')).toBeNull()
  expect(howToMeasure({ back: null })).toBe('')
})
