import { describe, expect, test } from 'vitest'
import { compareVersions, isSame } from '../../src/checks/compareVersions.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Fitting, Run, SkidDocument, Solid } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { billOfMaterial } from '../../src/outputs/billOfMaterial.ts'
import type { CutList } from '../../src/outputs/cutList.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { measureBetween } from '../../src/skid/measureBetween.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'

const box = (id: string, at: Solid['at'], size: Solid['at'], fitting: string | null = null): Solid => ({
  id,
  name: `Box ${id}`,
  kind: 'equipment',
  fitting,
  shape: 'box',
  at,
  size,
  turn: [0, 0, 0],
})
/** A straight tube of 12 mm along x from a port at the origin to a free end at 600. */
const lagged = (more: Partial<Run> = {}): Run =>
  runOf('r1', [], {
    endA: { kind: 'port', fitting: 'f1' },
    endB: { kind: 'free', at: [600, 0, 0] },
    insulation: 20,
    ...more,
  })
const tap: Fitting = { ...port('f1', [0, 0, 0], [1, 0, 0]), straightNeeded: 30 }
const skid = (run: Run, solids: readonly Solid[] = []): SkidDocument => ({
  ...documentOf([run], [tap]),
  solids,
})
const gapTo = (d: SkidDocument, id: string) =>
  clearances(d, solveDocument(d), { within: 1000 }).find(p => p.bId === id)!

describe('a run’s outside is its insulation', () => {
  test('a box 7 mm from a tube with 20 mm of it is a clash of 13 mm', () => {
    const d = skid(lagged(), [box('b', [300, 38, 0], [50, 50, 50])])
    expect(gapTo(d, 'b').clearance).toBeCloseTo(-13, 6)
    const found = clearanceFindings(d, solveDocument(d)).find(f => f.rule === 'clash')
    expect(found).toMatchObject({ severity: 'error', measured: expect.closeTo(-13, 6), limit: 0 })
    expect(gapTo(skid(lagged({ insulation: 0 }), d.solids), 'b').clearance).toBeCloseTo(7, 6)
  })

  test('it begins where the straight for the nut ends, or where the run says', () => {
    // A block beside the first 25 mm: the bare tube is 7 mm off, the sleeve's edge at 30 is √(5² + …) away.
    const block = box('b', [12.5, 38, 0], [25, 50, 50])
    expect(gapTo(skid(lagged(), [block]), 'b').clearance).toBeCloseTo(5, 6)
    expect(gapTo(skid(lagged({ insulationCutBack: 200 }), [block]), 'b').clearance).toBeCloseTo(7, 6)
    expect(gapTo(skid(lagged({ insulationCutBack: 0 }), [block]), 'b').clearance).toBeCloseTo(-13, 6)
    // At the free end it goes to the end unless the run says otherwise.
    const last = box('b', [590, 38, 0], [10, 50, 50])
    expect(gapTo(skid(lagged(), [last]), 'b').clearance).toBeCloseTo(-13, 6)
    expect(gapTo(skid(lagged({ insulationCutBack: 40 }), [last]), 'b').clearance).toBeCloseTo(7, 6)
  })

  test('cut back all the way there is none', () => {
    const d = skid(lagged({ insulationCutBack: 400 }), [box('b', [300, 38, 0], [50, 50, 50])])
    expect(gapTo(d, 'b').clearance).toBeCloseTo(7, 6)
  })

  test('between two runs both count, and the measuring tool says the same', () => {
    const other = runOf('r2', [], {
      endA: { kind: 'free', at: [-100, 60, 0] },
      endB: { kind: 'free', at: [700, 60, 0] },
      insulation: 5,
    })
    const d = { ...documentOf([lagged(), other], [tap]) }
    // 60 − 26 − 11.
    expect(gapTo(d, 'r2').clearance).toBeCloseTo(23, 6)
    const measured = measureBetween(
      d,
      solveDocument(d),
      { kind: 'tube', run: 'r1' },
      { kind: 'tube', run: 'r2' },
    )
    expect(measured).toMatchObject({ gap: expect.closeTo(23, 6) })
  })

  test('a U of a lagged tube comes near itself by its sleeves', () => {
    const u = (insulation: number) =>
      documentOf([
        runOf(
          'r1',
          [
            [300, 0, 0],
            [300, 100, 0],
          ],
          { endA: { kind: 'free', at: [0, 0, 0] }, endB: { kind: 'free', at: [0, 100, 0] }, insulation },
        ),
      ])
    const own = (d: SkidDocument) =>
      clearances(d, solveDocument(d), { within: 1000 }).find(p => p.kind === 'self')!
    expect(own(u(0)).clearance).toBeCloseTo(88, 3)
    expect(own(u(20)).clearance).toBeCloseTo(48, 3)
    expect(own(u(50)).clearance).toBeCloseTo(-12, 3)
  })
})

test('a comparison sees insulation that comes, goes or begins elsewhere', () => {
  const solids = [box('b', [300, 38, 0], [50, 50, 50])]
  const version = (more: Partial<Run>) => {
    const d = skid(lagged(more), solids)
    return { d, findings: clearanceFindings(d, solveDocument(d)) }
  }
  const [bare, thick, away] = [version({ insulation: 0 }), version({}), version({ insulationCutBack: 400 })]
  const compared = (a: typeof bare, b: typeof bare) =>
    compareVersions(a.d, b.d, { before: a.findings, after: b.findings })
  const thicker = compared(bare, thick)
  expect(isSame(thicker)).toBe(false)
  expect(thicker.runs.changed[0]!.changes.map(c => c.what)).toEqual(['insulation'])
  expect(thicker.findings!.worse.length + thicker.findings!.appeared.length).toBe(1)
  expect(compared(thick, away).runs.changed[0]!.changes.map(c => c.what)).toEqual(['insulation cut back'])
})

test('the material list counts insulation by its own length', () => {
  const order = (run: Run) => {
    const d = skid(run)
    const list = { groups: [] } as unknown as CutList
    return billOfMaterial(d, solveDocument(d), list).find(l => l.kind === 'insulation')!.quantity
  }
  expect(order(lagged())).toBeCloseTo(0.57, 9)
  expect(order(lagged({ insulationCutBack: 100 }))).toBeCloseTo(0.4, 9)
  expect(order(lagged({ insulationCutBack: 400 }))).toBe(0)
})

test('a file keeps how far the insulation is cut back, and one without it reads as before', () => {
  const written = writeDocument(skid(lagged({ insulationCutBack: 45 })))
  const back = readDocument(written)
  expect(back.ok && back.document.runs[0]!.insulationCutBack).toBe(45)
  const plain = readDocument(writeDocument(skid(lagged())))
  expect(plain.ok && 'insulationCutBack' in plain.document.runs[0]!).toBe(false)
  expect(readDocument(written.replace('"insulationCutBack": 45', '"insulationCutBack": -1')).ok).toBe(false)
})
