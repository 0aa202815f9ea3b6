import { expect, it } from 'vitest'
import { layOut, type OrderedBend, orderFrom, stockOf } from '../../src/bench/layOut.ts'
import { backBeyondTangent } from '../../src/bench/onPart.ts'
import { stepsAtDie } from '../../src/bench/stepAtDie.ts'
import { backPicture, howToMeasure } from '../../src/outputs/backPicture.ts'
import type { PictureShape, Point } from '../../src/outputs/pictureShape.ts'
import { turnPicture } from '../../src/outputs/turnPicture.ts'
import { legsSeen } from '../bench/atTheBench.ts'
import { seeded } from '../bench/random.ts'
import { randomRun, shuffled } from '../bench/randomRun.ts'
import { replay, type Seated } from '../bench/replay.ts'

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
        expect(Math.abs(turn - swept)).toBeLessThan(15)
      } else expect(turn).toBe(0)
    })
  }
  expect(near).toBeGreaterThan(100)
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
