import { expect, test } from 'vitest'
import { dialFor, fitTrials, goOnTo, springbackRecord } from '../../src/bender/springback.ts'

test('wanted 90, dial stopped at 85, measured 82: the dial is 3° ahead (common practice, no source)', () => {
  const fit = fitTrials([{ dial: 85, measured: 82 }])
  expect(fit.kind).toBe('offset')
  expect(dialFor(fit, 90)).toEqual({ dial: 93, warning: null })
  expect(goOnTo(90, { dial: 85, measured: 82 })).toBe(93)
})

test('three trials on a line give the line, no residuals and its inverse', () => {
  const trials = [30, 60, 120].map(dial => ({ dial, measured: -1.2 + 0.98 * dial }))
  const fit = fitTrials(trials)
  expect(fit.a).toBeCloseTo(-1.2, 10)
  expect(fit.b).toBeCloseTo(0.98, 12)
  for (const r of fit.residuals) expect(Math.abs(r)).toBeLessThan(1e-10)
  expect(dialFor(fit, 90).dial).toBeCloseTo(91.2 / 0.98, 10)
  const record = springbackRecord('316', fit)
  expect(90 + record.offset + record.perDegree * 90).toBeCloseTo(91.2 / 0.98, 10)
})

test('least squares splits what does not fit: residuals sum to nothing', () => {
  const fit = fitTrials([
    { dial: 30, measured: 28 },
    { dial: 60, measured: 58.6 },
    { dial: 90, measured: 87.1 },
  ])
  expect(fit.residuals.reduce((s, r) => s + r, 0)).toBeCloseTo(0, 10)
  expect(Math.max(...fit.residuals.map(Math.abs))).toBeGreaterThan(0.1)
})

test('outside the trials the dial still answers and says so', () => {
  const fit = fitTrials([
    { dial: 30, measured: 28 },
    { dial: 90, measured: 87 },
  ])
  expect(dialFor(fit, 120).warning).toMatch(/outside the 28°–87°/)
  expect(dialFor(fit, 60).warning).toBeNull()
})

test('a falling line, trials at one angle, no trials and no angle are refused', () => {
  expect(() =>
    fitTrials([
      { dial: 30, measured: 60 },
      { dial: 60, measured: 30 },
    ]),
  ).toThrow(/slope/)
  expect(() =>
    fitTrials([
      { dial: 45, measured: 43 },
      { dial: 45, measured: 43.2 },
    ]),
  ).toThrow(/two different angles/)
  expect(() => fitTrials([])).toThrow(/at least one/)
  expect(() => fitTrials([{ dial: Number.NaN, measured: 3 }])).toThrow(/trial 1: dial/)
})
