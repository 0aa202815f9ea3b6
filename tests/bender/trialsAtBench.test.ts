import { describe, expect, it } from 'vitest'
import { dialFor, fitTrials } from '../../src/bender/springback.ts'
import { dialAtBench, fitAtBench, outliersOf } from '../../src/bender/trialsAtBench.ts'

describe('trials as they come in at the bench', () => {
  it('are a line as soon as they are spread out, the same as of any trials', () => {
    const trials = [
      { dial: 31.5, measured: 30 },
      { dial: 63, measured: 60.5 },
      { dial: 93.4, measured: 90 },
    ]
    expect(fitAtBench(trials)).toEqual(fitTrials(trials))
    expect(dialAtBench(fitAtBench(trials), 45)).toEqual(dialFor(fitTrials(trials), 45))
  })

  it('are a mean offset while they lie near together, so that noise is no slope', () => {
    // A short stop and the finished bend of one piece: the line through them would ask for 43.9° to get 45°.
    const pair = [
      { dial: 85, measured: 82 },
      { dial: 93, measured: 89.0 },
    ]
    const fit = fitAtBench(pair)
    expect([fit.kind, fit.a, fit.range]).toEqual(['offset', -3.5, [82, 89]])
    expect(fit.residuals).toEqual([0.5, -0.5])
    expect(dialAtBench(fit, 45).dial).toBe(48.5)
    expect(dialFor(fitTrials(pair), 45).dial).toBeLessThan(45)
  })

  it('say so when they are far from the wanted angle', () => {
    const fit = fitAtBench([{ dial: 85, measured: 82 }])
    expect(dialAtBench(fit, 90)).toEqual({ dial: 93, warning: null })
    expect(dialAtBench(fit, 45).warning).toBe('trials only at 82.0°: make one nearer to 45.0°')
  })

  it('are refused with the trial that is none', () => {
    expect(() => fitAtBench([])).toThrow('trial bends: found none')
    expect(() =>
      fitAtBench([
        { dial: 85, measured: 82 },
        { dial: 90, measured: Number.NaN },
      ]),
    ).toThrow('NaN')
  })
})

describe('trials at odds', () => {
  const off = (...pairs: [number, number][]) =>
    outliersOf(pairs.map(([dial, measured]) => ({ dial, measured })))
  it('show the one that the others contradict, with how far it is off', () => {
    const found = off([47.4, 45], [63, 63], [93.3, 90], [62.7, 60])
    expect(found.map(f => f === null)).toEqual([true, false, true, true])
    expect(found[1]).toBeCloseTo(2.7, 9)
    expect(off([62.7, 63], [47.4, 45], [62.6, 60])[0]).not.toBeNull()
  })
  it('are both shown where there are two, for neither can be told to be right', () => {
    expect(off([80, 80], [90, 50]).every(f => f !== null)).toBe(true)
    expect(off([47.4, 45], [93.3, 90])).toEqual([null, null])
  })
  it('are found one after the other where several slipped', () => {
    const found = off([47.4, 4.5], [40, 37.6], [93.3, 90], [63, 63], [62.7, 60.1])
    expect(found.map(f => f !== null)).toEqual([true, false, false, true, false])
  })
  it('are none when springback grows with the angle as it does', () => {
    expect(off([31, 30], [62.5, 60], [94, 90], [125.8, 120])).toEqual([null, null, null, null])
    expect(off()).toEqual([])
    expect(off([40, 37])).toEqual([null])
  })
})
