import { expect, test } from 'vitest'
import { say, told } from '../../src/document/sentence.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import type { RunListState } from '../../src/store/runListStore.ts'
import { runRows, shownRows } from '../../src/view/panels/runRows.ts'
import { manyRuns } from '../manyRuns.ts'

const made = manyRuns(12)
const document: SkidDocument = {
  ...made,
  runs: made.runs.map((run, i): Run => {
    if (i === 0) return { ...run, tag: 'R-10', service: 'Sea water' }
    if (i === 1) return { ...run, tag: 'R-2', service: 'sea air', vertices: run.vertices.slice(0, 4) }
    if (i === 2) return { ...run, tag: 'R-3', vertices: [], endB: run.endA }
    return run
  }),
}
const solved = new Map(document.runs.map(run => [run.id, solveRun(document, run)]))
const finding = (run: string, severity: Finding['severity']): Finding => ({
  id: `${run}:${severity}`,
  rule: 'straightClamp',
  severity,
  where: { run, kind: 'run', index: null },
  measured: null,
  limit: null,
  unit: '',
  ...told(say``),
})
const byRun = new Map([
  ['run1', [finding('run1', 'warning'), finding('run1', 'error')]],
  ['run2', [finding('run2', 'note')]],
])
const rows = runRows(document, solved, { byRun, complete: true, accepted: new Set() }, 'mm')
const whole: RunListState = { text: '', state: null, sort: null, down: false }
const tags = (wanted: Partial<RunListState>) => shownRows(rows, { ...whole, ...wanted }).map(r => r.tag)

test('a row tells tag, tube, length and bends of the solved run, and its worst finding', () => {
  expect(rows[0]).toMatchObject({ tag: 'R-10', service: 'Sea water', bends: 10, state: 'error' })
  expect(rows[0]!.length).toBe(solved.get('run1')!.cutLength)
  expect(rows[0]!.stateText).toBe('1 error, 1 warning')
  expect(rows[1]).toMatchObject({ bends: 4, state: 'note', stateText: '1 note' })
})

test('a run without a solution is an error and has no figures', () => {
  expect(solved.get('run3')!.route).toBeNull()
  expect(rows[2]).toMatchObject({
    length: null,
    lengthText: 'not solved',
    bends: null,
    state: 'error',
    stateText: 'cannot be solved',
  })
})

test('without findings a run is clear only when everything was checked', () => {
  expect(rows[5]).toMatchObject({ state: 'ok', stateText: 'no findings' })
  const still = runRows(document, solved, { byRun, complete: false, accepted: new Set() }, 'mm')
  expect(still[5]).toMatchObject({ state: 'notChecked', stateText: 'not checked yet' })
})

test('every word must be in tag, service or size, whatever its case and order', () => {
  expect(tags({ text: 'SEA' })).toContain('R-2')
  expect(tags({ text: 'water sea r-10' })).toEqual(['R-10'])
  expect(tags({ text: 'sea nowhere' })).toEqual([])
  expect(tags({ text: '   ' })).toHaveLength(12)
})

test('of a state only the runs in that state are left', () => {
  expect(tags({ state: 'error' })).toEqual(['R-10', 'R-3'])
  expect(tags({ state: 'note' })).toEqual(['R-2'])
  expect(tags({ state: 'ok' })).toHaveLength(9)
})

test('tags are in the order a person files them, and the other way round', () => {
  const up = tags({ sort: 'tag' })
  expect(up.indexOf('R-2')).toBeLessThan(up.indexOf('R-10'))
  expect(tags({ sort: 'tag', down: true })).toEqual([...up].reverse())
})

test('as entered is the order of the document, and the other way round it too', () => {
  expect(tags({})).toEqual(document.runs.map(r => r.tag))
  expect(tags({ down: true })).toEqual(document.runs.map(r => r.tag).reverse())
})

test('lengths, bends and sizes are in order of their figures, the worst state comes first', () => {
  for (const [sort, of] of [
    ['length', (r: (typeof rows)[number]) => r.length ?? -1],
    ['bends', (r: (typeof rows)[number]) => r.bends ?? -1],
    ['size', (r: (typeof rows)[number]) => r.od],
  ] as const) {
    const figures = shownRows(rows, { ...whole, sort }).map(of)
    expect(figures, sort).toEqual([...figures].sort((a, b) => a - b))
    expect(new Set(figures).size, sort).toBeGreaterThan(1)
  }
  expect(shownRows(rows, { ...whole, sort: 'state' }).map(r => r.state)).toEqual([
    'error',
    'error',
    'note',
    ...Array(9).fill('ok'),
  ])
})
