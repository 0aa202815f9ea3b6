import { describe, expect, test } from 'vitest'
import { layOut, orderFrom } from '../../src/bender/layOut.ts'
import { dialFor, fitTrials } from '../../src/bender/springback.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import { angleText, isAbove, isBelow, isOutside } from '../../src/document/angleRange.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { runFromRows, toolingFor } from '../bender/randomRun.ts'
import { sampleDocument } from './sampleDocument.ts'

const ROUNDING = 4e-10
const HAIR = 4e-4

/** What a layout says of its springback's range of 30° to 120° for a bend of this angle. */
function saidOf(angle: number): string[] {
  const run = runFromRows({ straights: [100, 100], bends: [{ angle, rotation: null }] }, 36, {
    insertionA: 0,
    insertionB: 0,
    trim: 0,
  })
  const springback = { material: '316', offset: 1, perDegree: 0.02, range: [30, 120] as const }
  return [
    ...layOut(run, toolingFor(12, 36), springback, {
      hand: 'left',
      kind: 'rotaryDraw',
      order: orderFrom('A', 1),
    }).warnings,
  ]
}

describe('an angle beside the ends of a range', () => {
  test('is inside when only rounding puts it out', () => {
    for (const angle of [30, 30 - ROUNDING, 120, 120 + ROUNDING]) {
      expect(isOutside(angle, [30, 120])).toBe(false)
      expect(saidOf(angle), `${angle}`).toEqual([])
    }
    expect([isAbove(90 + ROUNDING, 90), isBelow(90 - ROUNDING, 90)]).toEqual([false, false])
  })

  test('is outside by a hair, and the sentence has the digits that make it true', () => {
    expect(saidOf(30 - HAIR)).toEqual([
      'bend 1: 29.9996° is outside the 30°–120° that the trial bends covered',
    ])
    expect(saidOf(120 + HAIR)).toEqual([
      'bend 1: 120.0004° is outside the 30°–120° that the trial bends covered',
    ])
    expect(saidOf(25)).toEqual(['bend 1: 25° is outside the 30°–120° that the trial bends covered'])
  })

  test('is judged the same by the trials made at the bench', () => {
    const fit = fitTrials([
      { dial: 32, measured: 30 },
      { dial: 124, measured: 120 },
    ])
    expect(dialFor(fit, 30 - ROUNDING).warning).toBeNull()
    expect(dialFor(fit, 30 - HAIR).warning).toBe('29.9996° is outside the 30°–120° that the trials cover')
  })

  test('is judged the same by the stop, whose own digits are shown where they matter', () => {
    const base = sampleDocument()
    const angle = Math.max(...solveRun(base, base.runs[0]!).route!.bends.map(b => b.angle))
    const said = (stopOff: number) => {
      const document = {
        ...base,
        benders: base.benders.map(b => ({
          ...b,
          springback: b.springback.map(s => ({ ...s, offset: 0, perDegree: 0 })),
          tooling: b.tooling.map(t => ({ ...t, maxAngle: angle + stopOff })),
        })),
      }
      const { findings } = runChecks(document, [solveRun(document, document.runs[0]!)])
      return findings.filter(f => f.rule === 'angleBeyondStop').map(f => f.message)
    }
    expect(said(-ROUNDING)).toEqual([])
    const [hair] = said(-HAIR)
    const [to, allows] = [/must go to ([\d.]+)°/.exec(hair!)![1], /allows ([\d.]+)°/.exec(hair!)![1]]
    expect(Number(to) - Number(allows)).toBeCloseTo(HAIR, 5)
  })
})

test('an angle in a sentence gets decimals only where it would read like another', () => {
  expect(angleText(30)).toBe('30°')
  expect(angleText(29.996, 30)).toBe('29.996°')
  expect(angleText(29.99996, [30, 120], { digits: 1 })).toBe('29.99996°')
  expect(angleText(30, 30)).toBe('30°')
})
