import { expect, test } from 'vitest'
import { rulerTicks } from '../../src/view/panels/rulerTicks.ts'

const labels = (length: number, px: number, unit: 'mm' | 'in' | 'fraction') =>
  rulerTicks(length, px, unit).flatMap(t => (t.label === null ? [] : [t.label]))

test('at 1 px a mm a metre is labelled every 100 mm', () => {
  expect(labels(1000, 1, 'mm')).toEqual([
    '0',
    '100',
    '200',
    '300',
    '400',
    '500',
    '600',
    '700',
    '800',
    '900',
    '1000',
  ])
})

test('labels never stand nearer than their room, ticks never nearer than theirs', () => {
  for (const unit of ['mm', 'in', 'fraction'] as const)
    for (const px of [0.03, 0.1, 0.37, 1, 2.2, 9, 40]) {
      const ticks = rulerTicks(3000 / px, px, unit)
      const labelled = ticks.filter(t => t.label !== null)
      for (let i = 1; i < labelled.length; i++)
        expect((labelled[i]!.at - labelled[i - 1]!.at) * px).toBeGreaterThanOrEqual(52 - 1e-9)
      for (let i = 1; i < ticks.length; i++)
        expect((ticks[i]!.at - ticks[i - 1]!.at) * px).toBeGreaterThanOrEqual(5 - 1e-9)
    }
})

test('an inch ruler is cut into binary parts of an inch', () => {
  for (const t of rulerTicks(254, 4, 'fraction')) {
    const parts = (t.at / 25.4) * 32
    expect(Math.abs(parts - Math.round(parts))).toBeLessThan(1e-9)
  }
})

test('the last tick lies on the stock', () => {
  expect(rulerTicks(1013.13, 1, 'mm').at(-1)!.at).toBe(1010)
})

test('no length or no scale has no ticks', () => {
  expect(rulerTicks(0, 1, 'mm')).toEqual([])
  expect(rulerTicks(100, 0, 'mm')).toEqual([])
})
