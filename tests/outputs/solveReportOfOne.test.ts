import { describe, expect, test } from 'vitest'
import { allFindings } from '../../src/checks/allFindings.ts'
import { exportCommand } from '../../src/outputs/outputsCommand.ts'
import { type SolveReport, solveReport } from '../../src/outputs/solveReport.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

// Two tubes that run into each other, and far away one whose straight is too short for the clamp.
const lane = (id: string, y: number) =>
  runOf(id, [], { endA: { kind: 'free', at: [0, y, 0] }, endB: { kind: 'free', at: [500, y, 0] } })
const short = runOf(
  'far',
  [
    [200, 5000, 0],
    [200, 5092, 0],
  ],
  { endA: { kind: 'free', at: [0, 5000, 0] }, endB: { kind: 'free', at: [400, 5092, 0] } },
)
const DOCUMENT = documentOf([lane('one', 0), lane('two', 8), short])
const SOLVED = solveDocument(DOCUMENT)
const FINDINGS = allFindings(DOCUMENT, SOLVED)
const idsOf = (report: SolveReport) =>
  report.runs.map(r => r.findings.filter(f => f.state === 'open').map(f => f.id))

describe('what is open in a report', () => {
  test('a clash of two runs is listed under both and counted once', () => {
    const report = solveReport(DOCUMENT, SOLVED, FINDINGS)
    const [one, two, far] = idsOf(report)
    expect(one).toEqual(['clearance:one:two'])
    expect(two).toEqual(one)
    expect(far!.length).toBeGreaterThan(0)
    expect(report.open).toBe(1 + far!.length)
  })

  test.each(['one', 'two', 'far'])('one run alone counts what is open about that run: %s', id => {
    const data = exportCommand(DOCUMENT, SOLVED, {
      ...{ to: 'json', run: `TAG-${id}`, date: '2026-01-01T00:00:00', findings: FINDINGS },
    })
    const report = JSON.parse(new TextDecoder().decode(data)) as SolveReport
    const [open] = idsOf(report)
    expect(report.runs.map(r => r.tag)).toEqual([`TAG-${id}`])
    expect(report.open).toBe(open!.length)
    expect(open!.length).toBeGreaterThan(0)
  })
})
