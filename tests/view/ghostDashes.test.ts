import { describe, expect, test } from 'vitest'
import { distance } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { ghostDashes, middleLine } from '../../src/view/scene/ghostDashes.ts'
import { SAMPLE } from '../outputs/sampleDocument.ts'

const { pieces, developedLength } = solveDocument(SAMPLE)[0]!.route!
const lengthOf = (pairs: readonly (readonly [number, number, number])[]) =>
  pairs.reduce((sum, p, i) => (i % 2 === 0 ? sum + distance(p, pairs[i + 1]!) : sum), 0)

describe('lines along a ghost', () => {
  test('whole lines are four times the tube as long, dashes half of that', () => {
    // Chords are a little shorter than their bends, and lines on the outside of one longer than those inside.
    expect(lengthOf(ghostDashes(pieces, 12, true)) / (4 * developedLength)).toBeCloseTo(1, 2)
    expect(lengthOf(ghostDashes(pieces, 12)) / (2 * developedLength)).toBeCloseTo(1, 1)
  })
  test('along the middle: all of the centre line, or every other stretch of it', () => {
    const whole = middleLine(pieces)
    expect(lengthOf(whole) / developedLength).toBeCloseTo(1, 2)
    expect(whole[0]).toEqual(pieces[0]!.start)
    expect(distance(whole.at(-1)!, pieces.at(-1)!.end)).toBeLessThan(1e-9)
    const dashed = lengthOf(middleLine(pieces, 20)) / developedLength
    expect(dashed).toBeGreaterThan(0.4)
    expect(dashed).toBeLessThan(0.6)
  })
})
