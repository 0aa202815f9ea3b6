import { describe, expect, it } from 'vitest'
import { orderFrom } from '../../src/bender/layOut.ts'
import { inMm } from '../../src/document/sentence.ts'
import type { Bender, SkidDocument } from '../../src/document/types.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { dialThere, type Measuring, questionsAbout } from '../../src/view/bending/askAtBench.ts'
import { dialOf } from '../../src/view/bending/dial.ts'
import { type Programme, programmeOf } from '../../src/view/bending/programme.ts'
import { fitKey, freshProgress, type Progress, withAt } from '../../src/view/bending/progress.ts'
import { benchDocument } from './benchDocument.ts'

const { document, run } = benchDocument()
const [bender] = document.benders as [Bender]
function programme(benders: readonly Bender[] = document.benders): Programme {
  const skid: SkidDocument = { ...document, benders }
  const result = programmeOf(skid, run, solveRun(skid, run), orderFrom('A', 3))
  if (!result.ok) throw new Error(result.reason)
  return result.programme
}
const known = programme()
const blind = programme([{ ...bender, springback: [] }])
const fresh = freshProgress(orderFrom('A', 3))
const SHORT: Measuring = { kind: 'readShort', step: 1 }
const LAST: Measuring = { kind: 'measure', step: 1 }
const asked = (of: Programme, progress: Progress, screen: Measuring, dial: number | null, measured: number) =>
  questionsAbout(of, progress, screen, { dial, measured }).map(q => [q.kind, inMm(q.sentence)] as const)
const kinds = (...args: Parameters<typeof asked>) => asked(...args).map(([kind]) => kind)

describe('what is measured at the bench', () => {
  it('goes on unasked where it fits: the second bend, wanted 45°, stopped at 40°', () => {
    expect(dialThere(known, fresh, SHORT)).toBe(40)
    expect(asked(known, fresh, SHORT, 40, 37.5)).toEqual([])
    expect(asked(known, fresh, LAST, dialThere(known, fresh, LAST), 45.2)).toEqual([])
    expect(asked(blind, fresh, SHORT, 40, 36)).toEqual([])
    expect(asked(blind, fresh, LAST, null, 44)).toEqual([])
  })
  it('with a slip of the decimal is asked about on a short stop, with where the dial would then go', () => {
    const [[kind, says] = []] = asked(known, fresh, SHORT, 40, 3.75)
    expect(kind).toBe('angle')
    expect(says).toMatch(
      /^3\.75° measured where about 37\.\d° was expected.*the dial target would then be 81\.3°$/,
    )
    expect(kinds(blind, fresh, SHORT, 40, 3.75)).toEqual(['angle'])
  })
  it('with a slip of the decimal is asked about on the finished bend, whether a dial reading is known or not', () => {
    expect(kinds(known, fresh, LAST, dialThere(known, fresh, LAST), 4.5)).toEqual(['angle'])
    expect(kinds(blind, fresh, LAST, null, 4.5)).toEqual(['angle'])
  })
  it('past the wanted angle asks how far the dial really went, and not when that was typed', () => {
    const there = dialThere(known, fresh, LAST)!
    const [[kind, says] = []] = asked(known, fresh, LAST, there, 47.5)
    expect(kind).toBe('overbent')
    expect(says).toMatch(/2\.5° more than required.*target on the dial was 47\.\d°: what did it read\?/)
    expect(kinds(known, fresh, LAST, 50, 47.5)).toEqual([])
    expect(kinds(known, fresh, LAST, null, 47.5)).toEqual([])
  })
  it('on a short stop that is all of the wanted angle says that nothing is left to bend', () => {
    expect(kinds(known, fresh, SHORT, 47.4, 45.1)).toEqual(['past'])
    expect(kinds(known, fresh, SHORT, 40, 46)).toEqual(['angle', 'past'])
  })
  it('with a dial past the stop asks about the dial, then about the angle', () => {
    expect(kinds(known, fresh, LAST, 930, 45)).toEqual(['dial', 'angle'])
    expect(kinds(known, fresh, LAST, 47.4, 52)).toEqual(['angle'])
  })
})

describe('the dial by trials that no tube follows', () => {
  const odd: Progress = {
    ...fresh,
    dialFrom: 'trials',
    extra: [
      { dial: 10, measured: 9 },
      { dial: 100, measured: 10 },
    ],
  }
  it('is not used before somebody agrees to those very trials', () => {
    expect(dialOf(blind, odd, 1)).toBeNull()
    expect(dialOf(known, odd, 1)).toBeCloseTo(known.layout.steps[1]!.dial!, 9)
    const agreed = { ...odd, agreedFit: fitKey(odd) }
    expect(dialOf(known, agreed, 1)).toBeGreaterThan(3000)
    const another = { ...agreed, extra: withAt(odd.extra, 0, { dial: 11, measured: 9 }) }
    expect(dialOf(known, another, 1)).toBeCloseTo(known.layout.steps[1]!.dial!, 9)
  })
  it('comes back to what tube does when the trial that slipped is left out', () => {
    const mended = { ...odd, extra: withAt(odd.extra, 1, { dial: 100, measured: 10, out: true }) }
    expect(dialOf(blind, mended, 1)).toBeCloseTo(46, 9)
  })
})
