import { expect, test } from 'vitest'
import { decide } from '../../src/checks/decisions.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { reviewCsv } from '../../src/outputs/reviewReport.ts'

const finding: Finding = {
  id: 'clearance:r1:s1',
  rule: 'clash',
  severity: 'error',
  where: { run: 'r1', kind: 'pair', index: null, other: 's1' },
  measured: -1.25,
  limit: 10,
  unit: 'mm',
  ...told(say`AE-1 meets "frame", 1.25 mm deep`),
}
const acceptance = {
  finding: 'gone:r9',
  category: 'other',
  reason: '=HYPERLINK("x")',
  by: 'R',
  on: '2026-11-25',
  measured: 1,
  limit: 2,
} as const

test('the review table is CSV that keeps quotes, negative figures and stale decisions, and is no formula', () => {
  const csv = reviewCsv(emptyDocument('x'), decide([finding], [acceptance]))
  const lines = csv.split('\r\n')
  expect(lines[1]).toBe(
    'open,error,clash,r1,s1,-1.25,10,mm,"AE-1 meets ""frame"", 1.25 mm deep",,,,,clearance:r1:s1',
  )
  expect(lines[2]).toContain('stale,,gone')
  expect(lines[2]).toContain(`"'=HYPERLINK(""x"")"`)
  expect(lines[3]).toBe('')
})
