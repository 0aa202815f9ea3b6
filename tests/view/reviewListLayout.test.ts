import { describe, expect, test } from 'vitest'
import type { Decided } from '../../src/checks/decisions.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run } from '../../src/document/types.ts'
import { partName } from '../../src/skid/partName.ts'
import type { Group } from '../../src/view/reviewing/groups.ts'
import { placeGroups, ROW_PX, rowsInWindow, TITLE_PX, topOfRow } from '../../src/view/reviewing/listLayout.ts'
import { manyRuns } from '../manyRuns.ts'
import { seeded } from '../random.ts'

const SEED = 23
const groupOf = (title: string, count: number): Group => ({
  title,
  items: Array.from({ length: count }, () => ({}) as Decided),
})

describe('the layout of the review list', () => {
  test(`every row that the window meets is in the page, and few others (seed ${SEED})`, () => {
    const random = seeded(SEED)
    const groups = Array.from({ length: 700 }, (_, i) => groupOf(`g${i}`, random.whole(1, 12)))
    const { placed, height } = placeGroups(groups)
    const count = groups.reduce((sum, g) => sum + g.items.length, 0)
    expect(height).toBe(groups.length * TITLE_PX + count * ROW_PX)
    const tops = Array.from({ length: count }, (_, i) => topOfRow(placed, i)!)
    for (let k = 0; k < 40; k++) {
      const window = { top: random.between(0, height - 600), height: 600 }
      const keep = random.whole(0, count - 1)
      const rows = rowsInWindow(placed, window, keep).flatMap(g => [...g.rows])
      const wanted = tops.flatMap((top, i) =>
        top + ROW_PX > window.top && top < window.top + window.height ? [i] : [],
      )
      expect(rows).toEqual(expect.arrayContaining(wanted))
      expect(rows).toContain(keep)
      expect(new Set(rows).size).toBe(rows.length)
      expect(rows).toEqual([...rows].sort((a, b) => a - b))
      expect(rows.length).toBeLessThan(40)
    }
  })
  test('a short list is in the page whole', () => {
    const { placed } = placeGroups([groupOf('a', 70), groupOf('b', 30)])
    const shown = rowsInWindow(placed, { top: 0, height: 100 }, 0)
    expect(shown.map(s => s.rows.length)).toEqual([70, 30])
    expect(topOfRow(placed, 100)).toBeNull()
  })
  test('names come from the runs, solids and fittings of the document asked about', () => {
    const before = manyRuns(3)
    const rename = (run: Run): Run => (run.id === 'run2' ? { ...run, tag: 'NEW' } : run)
    const after = { ...before, runs: before.runs.map(rename) }
    expect(partName(before, 'run2')).toBe('R-0002')
    expect(partName(after, 'run2')).toBe('NEW')
    expect(partName(emptyDocument('x'), 'run2')).toBe('run2')
  })
})
