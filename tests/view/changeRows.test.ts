import { describe, expect, test } from 'vitest'
import { compareVersions } from '../../src/checks/compareVersions.ts'
import { addRun, movePoint, removeRun } from '../../src/document/edits.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { namesOfBoth } from '../../src/outputs/compareText.ts'
import { changeGroups } from '../../src/view/reviewing/changeRows.ts'
import { SAMPLE } from '../outputs/sampleDocument.ts'

const run = SAMPLE.runs[0]!
const other = { ...run, id: 'r2', tag: 'AE-2' }
const before: SkidDocument = { ...SAMPLE, runs: [run, other] }
const vertex = run.vertices[1]!
const [x, y, z] = vertex.at
const moved = movePoint(before, run.id, vertex.id, [x + 15, y, z + 20])

const gap = (a: string, b: string, measured: number): Finding => ({
  id: `clearance:${a}:${b}`,
  rule: 'tooClose',
  severity: 'warning',
  where: { run: a, kind: 'pair', index: null, other: b },
  measured,
  limit: 10,
  unit: 'mm',
  ...told(say`m`),
})
const lost: Finding = {
  ...gap('', 'm1', 0),
  id: 'clearance:notChecked:m1',
  rule: 'clearanceNotChecked',
  severity: 'notChecked',
  where: { run: null, kind: 'pair', index: null, other: 'm1' },
  measured: null,
}
function groupsOf(
  after: SkidDocument,
  findings: { before: readonly Finding[]; after: readonly Finding[] } | null = null,
  unit: 'mm' | 'in' = 'mm',
) {
  const found = compareVersions(before, after, findings)
  return changeGroups(found, namesOfBoth(before, after), unit)
}

describe('the list of changes', () => {
  test('a run whose point moved says which and how far, in the unit chosen, and has every figure that moved', () => {
    const [runs, ...more] = groupsOf(moved)
    expect(runs!.title).toBe('Runs: 1 changed, 1 the same')
    expect(runs!.rows[0]).toMatchObject({ id: `run:${run.id}`, word: 'changed', title: run.tag })
    expect(runs!.rows[0]!.more).toBe('point 3 moved 25 mm')
    expect(groupsOf(moved, null, 'in')[0]!.rows[0]!.more).toBe('point 3 moved 0.9843 in')
    expect(runs!.rows[0]!.changes.map(c => c.what)).toContain('cut length')
    expect(more).toEqual([])
  })

  test('without a move the first other figure stands for all, with their count', () => {
    const after = { ...before, runs: [{ ...run, clr: run.clr + 5 }, other] }
    const [row] = groupsOf(after)[0]!.rows
    expect(row!.more).toMatch(/^CLR .* → .*, \d+ more$/)
  })

  test('added and removed runs are rows; a removed one is of the earlier version', () => {
    const after = addRun(removeRun(before, 'r2'), { ...run, id: 'r3', tag: 'AE-3' })
    const [runs] = groupsOf(after)
    expect(runs!.title).toBe('Runs: 1 added, 1 removed, 1 the same')
    expect(runs!.rows.map(r => [r.word, r.title, r.version])).toEqual([
      ['added', 'AE-3', 'now'],
      ['removed', 'AE-2', 'earlier'],
    ])
  })

  test('a run has the findings that it takes part in, and counts those that are other than they were', () => {
    const groups = groupsOf(moved, {
      before: [gap(run.id, 's1', 8), gap('r2', 's9', 3)],
      after: [gap(run.id, 's1', 6), gap('r2', run.id, 2)],
    })
    const [row] = groups[0]!.rows
    expect(row!.figure).toBe('2 findings')
    expect(row!.findings!.worse.map(m => [m.before, m.after])).toEqual([[8, 6]])
    expect(row!.findings!.appeared).toHaveLength(1)
    expect(row!.findings!.gone).toEqual([])
    expect(groups.slice(1).map(g => [g.title, g.rows[0]!.word, g.rows[0]!.figure])).toEqual([
      ['Findings: 1 appeared', 'appeared', '2 mm'],
      ['Findings: 1 got worse', 'worse', '8 mm → 6 mm'],
      ['Findings: 1 went away', 'gone', '3 mm'],
    ])
  })

  test('a model that was not checked before: its finding is neither new nor gone, and the model is named', () => {
    const groups = groupsOf(moved, { before: [lost], after: [gap(run.id, 'm1/wall', 4)] })
    expect(groups.slice(1).map(g => [g.title, g.rows[0]!.word, g.rows[0]!.version])).toEqual([
      ['Findings: 1 found now, not checked before', 'not known', 'now'],
      ['Findings: 1 not checked in the earlier version', 'not checked', 'earlier'],
    ])
    expect(groups[0]!.rows[0]!.figure).toBe('')
  })

  test('every row has an id of its own', () => {
    const after = { ...moved, supportSpan: 900, clearances: { ...moved.clearances, tube: 99 } }
    const groups = groupsOf(after, {
      before: [gap(run.id, 's1', 8), lost],
      after: [gap(run.id, 's1', 6), gap('r2', 's2', 1)],
    })
    const ids = groups.flatMap(g => g.rows.map(r => r.id))
    expect(new Set(ids).size).toBe(ids.length)
  })
})
