import { describe, expect, test } from 'vitest'
import { say, told } from '../../src/document/sentence.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { findingFigure } from '../../src/findings/findingFigure.ts'

const of = (measured: number | null, limit: number | null, unit: Finding['unit']): Finding => ({
  id: 'straightClamp:r:v1:v2',
  rule: 'straightClamp',
  severity: 'error',
  where: { run: 'r', kind: 'straight', index: 1 },
  measured,
  limit,
  unit,
  ...told(say``),
})
const both = (finding: Finding, unit: 'mm' | 'in' | 'fraction') =>
  [finding.measured, finding.limit].map(value => findingFigure(value, finding, unit))

describe('a finding’s figures beside its sentence', () => {
  test('are in the unit shown', () => {
    const short = of(20, 30, 'mm')
    expect(both(short, 'mm')).toEqual(['20 mm', '30 mm'])
    expect(both(short, 'in')).toEqual(['0.7874 in', '1.1811 in'])
    expect(both(short, 'fraction')).toEqual(['25/32 in', '1 3/16 in'])
  })
  test('never read alike when they are not, in any unit', () => {
    const hair = of(29.9, 30, 'mm')
    expect(both(hair, 'fraction')).toEqual(['1.1772 in', '1.1811 in'])
    expect(both(of(29.9999, 30, 'mm'), 'mm')).toEqual(['29.9999 mm', '30 mm'])
    expect(both(of(29.9999, 30, 'mm'), 'in')).toEqual(['1.181098 in', '1.181102 in'])
    expect(both(of(0.5001, 0.5, 'deg'), 'in')).toEqual(['0.5001°', '0.5°'])
  })
  test('an accepted figure is told from both', () => {
    expect(findingFigure(29.95, of(29.9, 30, 'mm'), 'fraction')).toBe('1.1791 in')
  })
  test('without a unit are rounded as angles are; there may be none', () => {
    expect(both(of(1 / 3, 2, ''), 'in')).toEqual(['0.33', '2'])
    expect(both(of(null, null, ''), 'mm')).toEqual(['', ''])
  })
})
