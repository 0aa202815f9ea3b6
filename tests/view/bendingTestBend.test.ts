import { describe, expect, it } from 'vitest'
import { readTestBend, springbackAfter, type TestPiece } from '../../src/bender/testBend.ts'
import { toolingOf } from '../../src/document/lookUp.ts'
import { runChanges, takeOverTestBend } from '../../src/view/bending/testBendEdit.ts'
import { benchDocument } from './benchDocument.ts'

/** A piece bent to 90° on a die that settles at 37.5 mm, its line 4 mm behind the start of bend at 150 mm. */
const CLR = 37.5
const GAIN = (2 - Math.PI / 2) * CLR
const PIECE: TestPiece = {
  stock: 400,
  dial: 93.5,
  measured: 90,
  mark: 154,
  legA: 150 + CLR,
  legB: 400 - (150 + CLR) + GAIN,
}

describe('taking a test bend over', () => {
  const { document, run } = benchDocument()
  const bender = document.benders[0]!
  const tooling = toolingOf(bender, run)!
  const result = readTestBend(PIECE, tooling)

  it('gives the tooling its radius and reference line, and its runs the radius that comes out', () => {
    const next = takeOverTestBend(document, bender.id, tooling.id, result, springbackAfter('316', PIECE))
    const after = toolingOf(next.benders[0]!, next.runs[0]!)!
    expect(after.id).toBe(tooling.id)
    expect(after.clr).toBeCloseTo(CLR, 9)
    expect(after.clrMeasured).toBe('settled')
    expect(after.referenceOffset).toBeCloseTo(4, 9)
    expect(next.runs[0]!.clr).toBeCloseTo(CLR, 9)
    expect(next.benders[0]!.springback.find(s => s.material === '316')?.offset).toBeCloseTo(3.5, 9)
    expect(document.runs[0]!.clr).toBe(36)
  })

  it('leaves runs of other tubes and benders as they are', () => {
    const others = {
      ...document,
      runs: [
        run,
        { ...run, id: 'r2', bender: null },
        { ...run, id: 'r3', tube: { ...run.tube, od: 10 }, clr: 30 },
      ],
    }
    const next = takeOverTestBend(others, bender.id, tooling.id, result, null)
    expect(next.runs[1]).toBe(others.runs[1])
    expect(next.runs[2]).toBe(others.runs[2])
    expect(next.benders[0]!.springback).toBe(bender.springback)
  })

  it('shows beforehand what changes in the marks: the first by tangent length and reference line', () => {
    const next = takeOverTestBend(document, bender.id, tooling.id, result, null)
    const [change] = runChanges(document, next)
    const [was, is] = change!.marks[0]!.mark
    // At 90° the tangent length is the CLR: the start comes 1.5 mm earlier, the line stands 1 mm further back.
    expect(is - was).toBeCloseTo(-1.5 + 1, 9)
    expect(change!.cutLength[1]).toBeLessThan(change!.cutLength[0])
    expect(runChanges(document, document)).toEqual([])
  })

  it('refuses a tooling that is not there', () => {
    expect(() => takeOverTestBend(document, bender.id, 'none', result, null)).toThrow('no tooling "none"')
  })
})
