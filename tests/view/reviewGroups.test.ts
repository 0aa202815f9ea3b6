import { describe, expect, test } from 'vitest'
import { decide } from '../../src/checks/decisions.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { count, group, search } from '../../src/view/reviewing/groups.ts'

const finding = (id: string, patch: Partial<Finding>): Finding => ({
  id,
  rule: 'straightClamp',
  severity: 'error',
  where: { run: 'r1', kind: 'straight', index: 0 },
  measured: 10,
  limit: 20,
  unit: 'mm',
  ...told(say`message of ${id}`),
  ...patch,
})
const document = emptyDocument('review')
const { decided } = decide(
  [
    finding('a', {}),
    finding('b', { rule: 'clash', where: { run: 'r2', kind: 'pair', index: null, other: 'r1' } }),
    finding('c', { severity: 'notChecked', rule: 'housingNotChecked' }),
    finding('d', { where: { run: 'r2', kind: 'straight', index: 1 } }),
  ],
  [
    {
      finding: 'd',
      category: 'other',
      reason: 'x',
      by: 'y',
      on: '2026-01-01',
      measured: 10,
      limit: 20,
    },
  ],
)

describe('the review list', () => {
  test('counts open, accepted and not checked apart', () => {
    expect(count(decided)).toEqual({ open: 2, accepted: 1, notChecked: 1 })
  })
  test('groups by run, and a pair has one name whichever party comes first', () => {
    expect(group(decided, 'run', document).map(g => [g.title, g.items.length])).toEqual([
      ['r1', 2],
      ['r2', 2],
    ])
    expect(group(decided, 'pair', document).map(g => g.title)).toContain('r1 and r2')
  })
  test('search wants every word, in message, rule, run or state', () => {
    expect(search(decided, 'CLASH r2', document).map(i => i.finding.id)).toEqual(['b'])
    expect(search(decided, 'not checked', document).map(i => i.finding.id)).toEqual(['c'])
    expect(search(decided, 'clash nowhere', document)).toEqual([])
    expect(search(decided, '  ', document)).toHaveLength(4)
  })
})
