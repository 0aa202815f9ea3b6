import { describe, expect, test } from 'vitest'
import { decide, isOpen } from '../../src/checks/decisions.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { Acceptance } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'

const short: Finding = {
  id: 'straightShort:r1:v1:v2',
  rule: 'straightClamp',
  severity: 'error',
  where: { run: 'r1', kind: 'straight', index: 1 },
  measured: 20,
  limit: 35,
  unit: 'mm',
  ...told(say`too short`),
}
const accepted: Acceptance = {
  finding: short.id,
  category: 'agreed',
  reason: 'special clamp',
  by: 'reviewer',
  on: '2026-11-25',
  measured: 20,
  limit: 35,
}
const state = (finding: Finding, acceptance: Acceptance = accepted) =>
  decide([finding], [acceptance]).decided[0]!

describe('a decision about a finding', () => {
  test('holds while the figure stays, gets better, or worse by no more than 0.1', () => {
    for (const measured of [20, 30, 19.9]) expect(state({ ...short, measured }).state).toBe('accepted')
    expect(isOpen(state(short))).toBe(false)
  })
  test('opens again when the figure gets worse by more than 0.1', () => {
    const again = state({ ...short, measured: 19.8 })
    expect(again.state).toBe('reopened')
    expect(again.why).toContain('worse by 0.20 mm')
    expect(isOpen(again)).toBe(true)
  })
  test('opens again when its limit rises, not when it falls', () => {
    expect(state({ ...short, limit: 36 }).state).toBe('reopened')
    expect(state({ ...short, limit: 34 }).state).toBe('accepted')
  })
  test('knows that too much gets worse upwards', () => {
    const past: Finding = { ...short, measured: 120, limit: 110, unit: 'deg' }
    const at: Acceptance = { ...accepted, measured: 120, limit: 110 }
    expect(state({ ...past, measured: 118 }, at).state).toBe('accepted')
    expect(state({ ...past, measured: 121 }, at).state).toBe('reopened')
    expect(state({ ...past, limit: 105 }, at).state).toBe('reopened')
  })
  test('does not cover a check that was not run', () => {
    expect(state({ ...short, severity: 'notChecked', measured: null }).state).toBe('reopened')
  })
  test('is listed as stale, never dropped, when its finding is gone', () => {
    expect(decide([], [accepted])).toEqual({ decided: [], stale: [accepted] })
  })
})
