import { describe, expect, it } from 'vitest'
import { dialFor, fitTrials } from '../../src/bench/springback.ts'
import { dialAtBench, fitAtBench } from '../../src/bench/trialsAtBench.ts'

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
