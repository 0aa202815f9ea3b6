import { describe, expect, test } from 'vitest'
import { toleranceLines } from '../../src/outputs/sheetText.ts'
import { seeded } from '../bender/random.ts'
import { randomRun, runFromRows } from '../bender/randomRun.ts'

const EXTRAS = { insertionA: 0, insertionB: 0, trim: 0 }
const mm = (value: number) => `${value.toFixed(2)} mm`
const NONE = { length: null, angle: null, turn: null, ends: null }
type Rows = Parameters<typeof runFromRows>[0]

/** The tube's ends as seen from the held end, by walking the rows with matrices: knows nothing of the program's chain. */
function farPoint({ straights, bends }: Rows, clrs: readonly number[]): [number, number, number] {
  type M = number[][]
  const times = (a: M, b: M): M =>
    a.map(row => b[0]!.map((_, j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)))
  const about = (axis: 'x' | 'z', deg: number): M => {
    const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)]
    return axis === 'x'
      ? [
          [1, 0, 0],
          [0, c, 0 - s],
          [0, s, c],
        ]
      : [
          [c, 0 - s, 0],
          [s, c, 0],
          [0, 0, 1],
        ]
  }
  let frame: M = about('x', 0)
  const at: [number, number, number] = [0, 0, 0]
  const go = (x: number, y: number) => {
    for (const i of [0, 1, 2]) at[i] = at[i]! + frame[i]![0]! * x + frame[i]![1]! * y
  }
  straights.forEach((straight, i) => {
    go(straight, 0)
    const bend = bends[i]
    if (!bend) return
    frame = times(frame, about('x', bend.rotation ?? 0))
    const rad = (bend.angle * Math.PI) / 180
    go(clrs[i]! * Math.sin(rad), clrs[i]! * (1 - Math.cos(rad)))
    frame = times(frame, about('z', bend.angle))
  })
  return at
}

const reversed = ({ straights, bends }: Rows): Rows => ({
  straights: straights.toReversed(),
  bends: bends
    .toReversed()
    .map((b, i, all) => ({ angle: b.angle, rotation: i === 0 ? null : bends[all.length - i]!.rotation })),
})

describe('what a tolerance does at an end', () => {
  test('is the worst of the tube itself: a U with long legs moves its end by far more than its ends are apart', () => {
    const rows: Rows = {
      straights: [1000, 20, 1000],
      bends: [
        { angle: 90, rotation: null },
        { angle: 90, rotation: 0 },
      ],
    }
    const run = runFromRows(rows, 40, EXTRAS)
    const [whole, effect] = toleranceLines({ ...NONE, angle: 0.5, turn: 1 }, false, run, mm)
    expect(whole).toBe('Bend angles ±0.5°, rotations ±1°.')
    // A level U: out of its plane by 1° the leg swings by its own length and one bend's radius.
    const swing = 2 * (1000 + 40) * Math.sin(Math.PI / 360)
    expect(effect).toContain(`1° in the rotation between bends 1 and 2 moves end B ${mm(swing)}`)
    const moved = Number(/0\.5° in bend \d moves end [AB] ([\d.]+) mm/.exec(effect!)![1])
    expect(moved).toBeGreaterThan(8.5)
  })

  const seed = 8151
  test(`agrees with a walk of the rows, whichever bend, side and end is the worst (seed ${seed})`, () => {
    const next = seeded(seed)
    const named = new Set<string>()
    for (let n = 0; n < 200; n++) {
      const drawn = randomRun(next, 2 + Math.floor(next() * 5)).run
      const run = { ...drawn, insertionA: 0, insertionB: 0, trim: 0 }
      const { bends, straights } = run.route!
      const rows: Rows = { straights, bends: bends.map(b => ({ angle: b.angle, rotation: b.rotation })) }
      const found = { angle: 0, turn: 0 }
      for (const held of ['A', 'B'])
        for (let k = 0; k < bends.length; k++)
          for (const sign of [1, -1])
            for (const what of ['angle', 'turn'] as const) {
              if (what === 'turn' && k === 0) continue
              const off = bends.map((b, i) => ({
                angle: b.angle + (what === 'angle' && i === k ? sign * 0.5 : 0),
                rotation: b.rotation === null ? null : b.rotation + (what === 'turn' && i === k ? sign : 0),
              }))
              const clrs = bends.map((b, i) => b.arcLength / ((off[i]!.angle * Math.PI) / 180))
              const seen = (r: Rows, c: readonly number[]) =>
                held === 'A' ? farPoint(r, c) : farPoint(reversed(r), c.toReversed())
              const want = seen(
                rows,
                bends.map(b => b.clr),
              )
              const have = seen({ straights, bends: off }, clrs)
              found[what] = Math.max(found[what], Math.hypot(...want.map((v, i) => v - have[i]!)))
            }
      const effect = toleranceLines(
        { ...NONE, angle: 0.5, turn: 1 },
        false,
        run,
        v => `${v.toFixed(5)} mm`,
      )[1]!
      const said = [...effect.matchAll(/moves end ([AB]) ([\d.]+) mm/g)]
      for (const m of said) named.add(m[1]!)
      expect(Number(said[0]![2])).toBeCloseTo(found.angle, 3)
      expect(Number(said[1]![2])).toBeCloseTo(found.turn, 3)
    }
    expect([...named].sort()).toEqual(['A', 'B'])
  })

  test('is not said of what has no tolerance, of a single bend’s rotation, or of a straight tube', () => {
    const one = runFromRows({ straights: [50, 500], bends: [{ angle: 90, rotation: null }] }, 36, EXTRAS)
    expect(toleranceLines({ ...NONE, turn: 1 }, false, one, mm)).toEqual(['Rotations ±1°.'])
    expect(toleranceLines({ ...NONE, length: 1 }, false, one, mm)).toHaveLength(1)
    expect(toleranceLines({ ...NONE, angle: 0.5, turn: 1 }, false, one, mm)[1]).not.toContain('rotation')
    expect(toleranceLines({ ...NONE, angle: 200 }, false, one, mm)).toHaveLength(1)
  })
})
