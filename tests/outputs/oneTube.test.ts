import { describe, expect, test } from 'vitest'
import { benchReport, type ReportedRun } from '../../src/bender/benchCommand.ts'
import { compareDocuments } from '../../src/checks/compareDocuments.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import { formatLength } from '../../src/document/quantity.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { benchRun } from '../../src/outputs/benchLayout.ts'
import { cutList } from '../../src/outputs/cutList.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { stripPages } from '../../src/outputs/markingStrip.ts'
import { exportCommand } from '../../src/outputs/outputsCommand.ts'
import { solidTubes } from '../../src/outputs/solidTubes.ts'
import { solveReport, solveText } from '../../src/outputs/solveReport.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import { programmeOf } from '../../src/view/bending/programme.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import { texts } from './paperTexts.ts'

const DATE = { date: '2026-03-04' }

/** A run between unlike ends on a die whose own radius is given, which stretches the tube and springs back. */
function dieDocument(stretchAt90 = 1.3): SkidDocument {
  const run = runOf(
    'r1',
    [
      [0, 0, 260],
      [310, 0, 300],
      [390, 240, 300],
    ],
    { endA: { kind: 'port', fitting: 'a' }, endB: { kind: 'free', at: [420, 330, 530] }, trimAllowance: 7 },
  )
  const document = documentOf([run], [port('a', [0, 0, 0], [0, 0, 1])])
  return {
    ...document,
    benders: document.benders.map(b => ({
      ...b,
      tooling: b.tooling.map(t => ({ ...t, clrMeasured: 'die' as const, stretchAt90 })),
      springback: [{ material: '316', offset: 1.4, perDegree: 0.02, range: [30, 120] as const }],
    })),
  }
}

describe('a run whose bender opens the radius and stretches the tube', () => {
  const document = dieDocument()
  const solved = solveDocument(document)
  const made = solved[0]!
  const cut = made.cutLength!

  test('has the radius that springs open, and a cut length less the stretch', () => {
    const { bends, developedLength } = made.route!
    for (const b of bends) expect(b.clr).toBeCloseTo((36 * (b.angle + 1.4 + 0.02 * b.angle)) / b.angle, 9)
    const stretch = bends.reduce((sum, b) => sum + (1.3 * b.angle) / 90, 0)
    expect(cut).toBeCloseTo(developedLength + 22 + 7 - stretch, 9)
  })

  test('is cut to one length in every place that names it', () => {
    const report = solveReport(document, solved, [])
    expect(report.runs[0]!.cutLength).toBe(cut)
    for (const lead of ['A', 'B', 'best'] as const) {
      const bench = benchReport(document, solved, { lead }).runs[0] as ReportedRun
      expect(bench.cutLength).toBe(cut)
    }
    expect(benchRun(document, made).cutLength).toBe(cut)
    const programme = programmeOf(document, document.runs[0]!, made, null)
    expect(programme.ok && programme.programme.layout.cutLength).toBe(cut)
    const list = cutList(document, solved)
    expect(list.groups[0]!.bars[0]!.pieces[0]!.length).toBe(cut)
    const data = JSON.parse(
      new TextDecoder().decode(exportCommand(document, solved, { to: 'json', ...DATE })),
    )
    expect(data.runs[0].cutLength).toBe(cut)
    const before = { ...document, runs: document.runs.map(r => ({ ...r, trimAllowance: 0 })) }
    const changes = compareDocuments(before, document).changed[0]!.changes
    expect(changes.find(c => c.what === 'cut length')!.after).toBe(cut)

    const written = formatLength(cut, 'mm', { digits: 1, fixed: true })
    expect(solveText(document, solved)).toContain(`cut length       ${formatLength(cut, 'mm')}`)
    expect(texts(sheetPages(document, made, { ...DATE, findings: [] })).join('\n')).toContain(written)
    expect(texts(stripPages(document, made, DATE)).join('\n')).toContain(written)
  })

  test('leaves the files for other programs as the tube that is made: their length is the cut length less trim and with the stretch', () => {
    const stretch = made.stretch.reduce((sum, s) => sum + s, 0)
    expect(solidTubes(document, solved)[0]!.length).toBeCloseTo(cut + stretch - 7, 9)
  })

  test('is another tube on another bender, and its report says that tube', () => {
    const other = { ...document.benders[0]!, id: 'other', springback: [] }
    const both = { ...document, benders: [...document.benders, other] }
    const report = benchReport(both, solved, { bender: 'other' }).runs[0] as ReportedRun
    const there = solveRun(both, { ...document.runs[0]!, bender: 'other' })
    expect(report.cutLength).toBe(there.cutLength)
    expect(report.cutLength).not.toBeCloseTo(cut, 2)
  })
})

test('straights that only the opened bends make too short for the clamp are found by the checks, not only at the bench', () => {
  const route = (clrMeasured: 'settled' | 'die'): SkidDocument => {
    const tangent = 36
    const run = runOf(
      'r1',
      [
        [100 + tangent, 0, 0],
        [100 + tangent, 31.5 + 2 * tangent, 0],
        [100 + tangent + 150 + 2 * tangent, 31.5 + 2 * tangent, 0],
      ],
      { endB: { kind: 'free', at: [322 + tangent, 31.5 + 2 * tangent, 96] }, trimAllowance: 0 },
    )
    const document = documentOf([run])
    return {
      ...document,
      benders: document.benders.map(b => ({ ...b, tooling: b.tooling.map(t => ({ ...t, clrMeasured })) })),
    }
  }
  const clamp = (document: SkidDocument) =>
    runChecks(document, solveDocument(document)).findings.find(f => f.rule === 'straightClamp')
  expect(clamp(route('settled'))).toBeUndefined()
  const found = clamp(route('die'))!
  expect(found.limit).toBe(30)
  expect(found.measured).toBeLessThan(30)
  const bench = benchReport(route('die'), solveDocument(route('die')), { lead: 'A' }).runs[0] as ReportedRun
  expect(bench.steps.find(s => s.hold?.need === 'clampGrip')!.hold!.measured).toBeCloseTo(found.measured!, 9)
})

test('a nut has the straight that the opened bend leaves it', () => {
  const at = (clrMeasured: 'settled' | 'die') => {
    const document = dieDocument(0)
    const benders = document.benders.map(b => ({
      ...b,
      tooling: b.tooling.map(t => ({ ...t, clrMeasured })),
    }))
    const fittings = document.fittings.map(f => ({ ...f, straightNeeded: 500 }))
    const all = { ...document, benders, fittings }
    return runChecks(all, solveDocument(all)).findings.find(f => f.rule === 'fittingStraight')!.measured!
  }
  expect(at('settled') - at('die')).toBeGreaterThan(0.5)
})

test('the nearest die is taken, not the first that is near enough', () => {
  const document = dieDocument(0)
  const [bender] = document.benders
  const die = bender!.tooling.find(t => t.od === 12)!
  const withTwo = (first: number, second: number): SkidDocument => ({
    ...document,
    benders: [
      {
        ...bender!,
        tooling: [
          { ...die, id: 'one', clr: first, clrMeasured: 'settled' },
          { ...die, id: 'two', clr: second, clrMeasured: 'settled' },
        ],
      },
    ],
  })
  for (const [d, wanted] of [
    [withTwo(36.04, 36), 'two'],
    [withTwo(36, 36.04), 'one'],
  ] as const)
    expect((benchReport(d, solveDocument(d)).runs[0] as ReportedRun).tooling).toBe(wanted)
})
