import { describe, expect, it } from 'vitest'
import {
  askAboutTestBend,
  legsToCentre,
  readTestBend,
  type TestPiece,
  testPieceProblem,
} from '../../src/bender/testBend.ts'
import { inMm, inUnit } from '../../src/document/sentence.ts'
import type { Springback, Tooling } from '../../src/document/types.ts'

const CLR = 38.1
const tooling: Tooling = {
  id: '12mm',
  od: 12,
  clr: CLR,
  clrMeasured: 'settled',
  clampGrip: 30,
  followerLength: 36,
  referenceOffset: 3,
  maxAngle: 190,
}
const record: Springback = { material: '316', offset: 1, perDegree: 0.02, range: [30, 120] }

/** A piece bent to `deg` on a die that settles at CLR and draws `stretch` less stock in; legs to the centre line. */
function piece(deg: number, stretch = 0): TestPiece {
  const theta = (deg * Math.PI) / 180
  const tangent = CLR * Math.tan(theta / 2)
  return {
    stock: 160 + CLR * theta - stretch + 201.9,
    dial: deg + 1 + 0.02 * deg,
    measured: deg,
    legA: 160 + tangent,
    legB: 201.9 + tangent,
    mark: 163,
  }
}

describe('one test piece', () => {
  it('shows springback, CLR from its gain, (2 − π/2)·CLR at 90°, and the reference line', () => {
    for (const deg of [60, 88.5, 90, 120]) {
      const result = readTestBend(piece(deg), tooling)
      expect(result.springback).toBeCloseTo(1 + 0.02 * deg, 9)
      expect(result.clr).toBeCloseTo(CLR, 9)
      expect(result.referenceOffset).toBeCloseTo(3, 9)
    }
    expect(readTestBend(piece(90), tooling).gain).toBeCloseTo((2 - Math.PI / 2) * CLR, 9)
  })

  it('shows the same with its legs taped to the back of the bend', () => {
    for (const deg of [75, 90, 110]) {
      const centre = piece(deg)
      const out = 6 * Math.tan((deg * Math.PI) / 360)
      const taped = { ...centre, legA: centre.legA + out, legB: centre.legB + out }
      expect(readTestBend(legsToCentre(taped, 12), tooling).clr).toBeCloseTo(CLR, 9)
    }
    // At 90° the back of the bend is half an OD beyond the crossing of the centre lines.
    expect(legsToCentre({ ...piece(90), legA: 206 }, 12).legA).toBeCloseTo(200, 12)
  })

  it('does not take for radius what the record gives as stretch', () => {
    const drawn = piece(90, 2)
    expect(readTestBend(drawn, { ...tooling, stretchAt90: 2 }).clr).toBeCloseTo(CLR, 9)
    expect(readTestBend(drawn, tooling).clr).toBeGreaterThan(CLR + 4)
  })

  it('without gain, far from square, or with its mark off the stock is refused with figures a person writes', () => {
    const good = piece(90)
    const flat = { ...good, legA: good.legA - 20, legB: good.legB - 11.9 }
    expect(() => readTestBend(flat, tooling)).toThrow(
      /^test bend: gain: found legs together 15\.55 mm shorter than the stock,/,
    )
    const problem = testPieceProblem(flat, tooling)!
    expect(inMm(problem.found)).not.toMatch(/\d\.\d{4}/)
    expect(inUnit(problem.found, 'in')).toMatch(/0\.61\d* in shorter/)
    expect(() => readTestBend({ ...good, measured: 40 }, tooling)).toThrow(/60°–120°/)
    expect(() => readTestBend({ ...good, mark: good.stock + 1 }, tooling)).toThrow(
      /mark: found .* on the stock/,
    )
    expect(() => readTestBend({ ...good, legA: 30, legB: 408.1 }, tooling)).toThrow(
      /leg A: .* the bend takes/,
    )
    expect(() => readTestBend({ ...good, stock: good.stock + 14.5 }, tooling)).toThrow(
      /more than half the OD/,
    )
    expect(() => readTestBend({ ...good, dial: Number.NaN }, tooling)).toThrow(/dial/)
  })

  const asked = (changed: Partial<TestPiece>, known: Springback | null = record) => {
    const read = { ...piece(90), ...changed }
    return askAboutTestBend(read, readTestBend(read, tooling), tooling, known).map(inMm)
  }
  it('that agrees with the record is not asked about', () => {
    expect(asked({})).toEqual([])
    expect(asked({}, null)).toEqual([])
  })
  it('with a dial past the stop, dial and measured swapped, or a line far off the die is asked about', () => {
    expect(asked({ dial: 930 })).toEqual(
      expect.arrayContaining([expect.stringContaining('more than one whole turn')]),
    )
    expect(asked({ dial: 90, measured: 93 })[0]).toMatch(/swapped/)
    expect(asked({ mark: 275.4 })[0]).toMatch(/^a reference line 115\.4 mm from the start of bend/)
    expect(asked({ legA: 208.1, legB: 250 })[0]).toMatch(/^a CLR of .* on record/)
  })
})
