import { expect, test } from 'vitest'
import { handlingWords, NO_HANDLING } from '../../src/bender/handling.ts'
import { layOut, orderFrom, stockOf } from '../../src/bender/layOut.ts'
import { orderClause } from '../../src/bender/orderText.ts'
import { stepsAtDie } from '../../src/bender/stepAtDie.ts'
import { tubeAtDie } from '../../src/bender/tubeAtDie.ts'
import { handling, slideWay } from '../../src/outputs/stepWords.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { seeded } from '../bender/random.ts'
import { randomRun, shuffled } from '../bender/randomRun.ts'

const SEED = 6613
test(`the way that the tube is said to slide is the way that it moves in the simulation, any order, both kinds and hands (seed ${SEED})`, () => {
  const next = seeded(SEED)
  let slid = 0
  for (let n = 0; n < 150; n++) {
    const bends = 2 + Math.floor(next() * 4)
    const { run, tooling } = randomRun(next, bends)
    const order: OrderedBend[] = shuffled(next, orderFrom('A', bends)).map(o => ({
      ...o,
      lead: next() < 0.7 ? 'A' : 'B',
    }))
    const layout = layOut(run, tooling, null, {
      hand: next() < 0.5 ? 'left' : 'right',
      kind: next() < 0.7 ? 'rotaryDraw' : 'compression',
      order,
    })
    const stock = stockOf(run)
    stepsAtDie(layout, stock, tooling.od).forEach((step, i) => {
      // The leading end before and after the slide; the clamp lies towards +x.
      const end = (fraction: number) => tubeAtDie(layout, stock, i, 'slide', fraction).pieces[0]!.start
      const moved = end(1)[0] - end(0)[0]
      const said = slideWay(step)
      if (step.putIn) {
        expect(said).toBeNull()
        return
      }
      slid++
      expect(said).toBe(moved > 0 ? 'away from you, towards the clamp' : 'towards you, away from the clamp')
      if (i > 0) expect(handling(step)).toEqual([`Slide it ${said}, to the mark.`])
    })
  }
  expect(slid).toBeGreaterThan(150)
})

test('a step that slides back, or not at all, is said to', () => {
  expect(slideWay({ slide: -2 })).toBe('towards you, away from the clamp')
  expect(slideWay({ slide: 0 })).toBeNull()
})

test('an order is said with one end for all bends, or each bend with the end that leads it', () => {
  const order = (text: string): OrderedBend[] =>
    [...text.matchAll(/(\d)([AB])(c?)/g)].map(m => ({
      bend: Number(m[1]) - 1,
      lead: m[2] as 'A' | 'B',
      ...(m[3] ? { way: 'counter-clockwise' } : {}),
    }))
  expect(orderClause(order('1A3A4A2A'))).toBe('in the order 1, 3, 4, 2, end A leading for all,')
  expect(orderClause(order('4B1B3B2B'))).toBe('in the order 4, 1, 3, 2, end B leading for all,')
  expect(orderClause(order('2A1A3B4A'))).toBe(
    'in the order 2A, 1A, 3B, 4A, each bend with the end that leads,',
  )
  expect(orderClause(order('3B2B1B'))).toBe('with end B leading')
  expect(orderClause(order('3B2Bc1B'))).toBe(
    'with end B leading, with the half turn before bend 2 counter-clockwise,',
  )
  expect(orderClause(order('1A2Ac3A'))).toBe('with the half turn before bend 2 counter-clockwise')
  expect(orderClause(order('1A3Ac2A'))).toBe(
    'in the order 1, 3, 2, end A leading for all, with the half turn before bend 3 counter-clockwise,',
  )
})

test('bends that follow one another are said to need no more than sliding and rotating', () => {
  expect(handlingWords(NO_HANDLING)).toBe('only slide and rotate the tube between bends')
})
