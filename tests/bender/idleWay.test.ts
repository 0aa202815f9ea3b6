import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { benchReport } from '../../src/bender/benchCommand.ts'
import { clearOrder } from '../../src/bender/clearStep.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { idleWay } from '../../src/bender/idleWay.ts'
import { orderFrom, stockOf } from '../../src/bender/layOut.ts'
import { readOrder } from '../../src/bender/orderText.ts'
import type { Bender, SkidDocument } from '../../src/document/types.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { BENDERS, benderNamed, equipmentFor } from './benders.ts'
import { seeded } from './random.ts'
import { runFromRows, shuffled } from './randomRun.ts'

const read = (text: string, count: number) => {
  const order = readOrder(text, count)
  if (typeof order === 'string') throw new Error(order)
  return order
}
const DRAWN = { kind: 'rotaryDraw', tubeOutFirst: false } as const
/** Bends 1 to 2 half a turn, 2 to 3 a right angle, 3 to 4 none. */
const PLANES = [0, 180, 270, 270]

describe('a direction that an order gives', () => {
  test('is taken where the tube makes a half turn in the bender, clockwise or not', () => {
    for (const text of ['1 2 CW 3 4', '1 2 CCW 3 4', 'B 4 3 2 1 CCW', '1A 2A CCW 4B 3A'])
      expect(idleWay(read(text, 4), PLANES, DRAWN), text).toBeNull()
  })

  test.each([
    ['1 CCW 2 3 4', DRAWN, 0, 'CCW, though nothing is rotated before the first bend'],
    ['1 2 3 CW 4', DRAWN, 2, 'CW, though the rotation before this bend is 90.0° clockwise, not a half turn'],
    ['1 2 3 4 CCW', DRAWN, 3, 'CCW, though nothing is rotated before this bend'],
    [
      'B 4 3 2 CCW 1',
      DRAWN,
      1,
      'CCW, though the rotation before this bend is 90.0° clockwise, not a half turn',
    ],
    ['2A 1B 3A 4A', DRAWN, null, ''],
    ['3A 4B CCW 1A 2A', DRAWN, 3, 'CCW, though the tube is taken out, turned end for end and put in already'],
    ['2A 1A CCW 3A 4A', DRAWN, 0, 'CCW, though the tube is taken out past a bend made before'],
    [
      '1 2 CW 3 4',
      { kind: 'compression', tubeOutFirst: false },
      1,
      'CW, though a compression bender has the tube taken out after every bend',
    ],
    [
      '1 2 CCW 3 4',
      { kind: 'rotaryDraw', tubeOutFirst: true },
      1,
      'CCW, though on this bender the tube is taken out after every bend',
    ],
  ] as const)('in "%s" on %o is refused where it means nothing', (text, bender, bend, found) => {
    const idle = idleWay(read(text, 4), PLANES, bender)
    expect(idle?.bend ?? null).toBe(bend)
    expect(idle?.found ?? '').toContain(found)
  })

  test('is written once for a bend, and after it', () => {
    expect(readOrder('1 2 CW CCW', 2)).toMatch(/"CCW" is a second direction for bend 2/)
    expect(readOrder('1A B CCW 2', 2)).toMatch(/"CCW" comes after an end/)
  })
})

const SEED = 4801
test(`a direction that is not refused is the one that is swept and laid out, for both kinds of bender (seed ${SEED})`, () => {
  const next = seeded(SEED)
  let [kept, refused] = [0, 0]
  for (let n = 0; n < 300; n++) {
    const bends = 2 + Math.floor(2 * next())
    const run = runFromRows(
      {
        straights: Array.from({ length: bends + 1 }, () => 60 + 100 * next()),
        bends: Array.from({ length: bends }, (_, k) => ({
          angle: 30 + 60 * next(),
          rotation: k === 0 ? null : next() < 0.7 ? 180 : 90,
        })),
      },
      36,
      { insertionA: 0, insertionB: 0, trim: 0 },
    )
    const base = BENDERS[Math.floor(next() * BENDERS.length)]!
    const bender: Bender = { ...base, tubeOutFirst: next() < 0.2, housing: [], arm: [], benchTop: null }
    const { tooling, springback } = equipmentFor(base, 12)
    const setup = benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
    const order = shuffled(next, orderFrom('A', bends)).map(
      (o): OrderedBend => ({
        ...o,
        lead: next() < 0.7 ? 'A' : 'B',
        ...(next() < 0.5 ? { way: 'counter-clockwise' } : {}),
      }),
    )
    const asked = order.filter(o => o.way === 'counter-clockwise').map(o => o.bend)
    const swept = clearOrder(setup, order).flatMap(s => (s.step.way === undefined ? [] : [s.step.bend]))
    if (idleWay(order, stockOf(run).planes, setup) === null) {
      expect(swept).toEqual(asked)
      kept += asked.length
    } else {
      expect(swept.length).toBeLessThan(asked.length)
      refused++
    }
  }
  expect(kept).toBeGreaterThan(5)
  expect(refused).toBeGreaterThan(10)
})

test('a half turn’s direction on a compression bender is bad input that names the bend', () => {
  const document = JSON.parse(
    readFileSync(new URL('../../sample-routes/two-bends.json', import.meta.url), 'utf8'),
  ) as SkidDocument
  const solved = solveDocument(document)
  const bender = BENDERS.find(b => b.kind === 'compression')!
  const report = (id: string) =>
    benchReport(document, solved, { run: solved[0]!.tag, order: '1A 2A CCW', bender: id, benders: BENDERS })
  expect(() => report(bender.id)).toThrow(
    /order of bends, bend 2: found CCW, though a compression bender .* wanted CW or CCW only where the tube makes a half turn in the bender/,
  )
  const drawn = report(benderNamed('bench-left').id).runs[0]!
  expect('problem' in drawn ? null : drawn.steps[1]!.turn).toBeCloseTo(-180, 6)
})
