import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  exactLength,
  formatAngle,
  formatLength,
  fractionError,
  type LengthUnit,
  parseAngle,
  parseLength,
} from '../../src/document/quantity.ts'

const SEED = 20260214
const mm = (text: string, unit: LengthUnit = 'mm') => {
  const r = parseLength(text, unit)
  return r.ok ? r.mm : r.reason
}

describe('a typed length', () => {
  test.each<[string, LengthUnit, number]>([
    ['157.1625mm', 'mm', 157.1625],
    ['6 3/16in', 'mm', 157.1625],
    ['6 3/16"', 'mm', 157.1625],
    ['6-3/16in', 'mm', 157.1625],
    ['6-3/16"', 'fraction', 157.1625],
    ['-6-3/16 in', 'in', -157.1625],
    [`1' 2-1/2"`, 'mm', 368.3],
    [`1'-2-1/2"`, 'in', 368.3],
    ['6 - 3/16', 'in', 147.6375],
    ['6in-3/16in', 'mm', 147.6375],
    ['6 3/16', 'fraction', 157.1625],
    ['6.1875', 'in', 157.1625],
    ['6½', 'in', 165.1],
    ['25.4*3+10', 'mm', 86.2],
    ['0.1+0.2', 'mm', 0.3],
    ['(2+3)*4', 'mm', 20],
    ['(2 + 1/2)in', 'mm', 63.5],
    ['2in + 5', 'mm', 55.8],
    ['2in + 5', 'in', 177.8],
    ['1in - 1mm', 'in', 24.4],
    ['\u22125', 'mm', -5],
    ['-(3+4)', 'mm', -7],
    ['12.5 cm', 'mm', 125],
    ['1.2m', 'in', 1200],
    ["1'", 'mm', 304.8],
    ['1\' 3"', 'mm', 381],
    ['1ft 3 3/8 in', 'mm', 390.525],
    ['2 × 3/8″', 'mm', 19.05],
    ['10mm/4', 'in', 2.5],
    ['.5', 'mm', 0.5],
    ['5.', 'mm', 5],
    ['0', 'in', 0],
  ])('%s in %s is %d mm', (text, unit, wanted) => {
    expect(mm(text, unit)).toBe(wanted)
  })

  test.each<[string, RegExp]>([
    ['1,5', /"1,5" is ambiguous/],
    ['1,500.2', /ambiguous/],
    ['6-3/16', /ambiguous: the dash/],
    ['10+6-3/16in', /ambiguous: the dash/],
    ['6-17/16in', /fraction below 1/],
    ['1\'-3"', /ambiguous: the dash/],
    ['', /found nothing/],
    ['   ', /found nothing/],
    ['abc', /"abc" is not a unit here/],
    ['10 furlongs', /"furlongs" is not a unit/],
    ['1 500', /beside another number/],
    ["1' 6", /without its unit/],
    ['3in*2in', /multiplied/],
    ['3in/2in', /division by a quantity/],
    ['3in mm', /left over|one unit/],
    ['1/0', /division by zero/],
    ['5/(1-1)', /division by zero/],
    ['1.2.3', /one decimal point/],
    ['(1+2', /bracket is open/],
    ['1+', /ends early/],
    ['*3', /wanted a number/],
    ['6 17/16in', /fraction below 1/],
    ['NaN', /not a unit/],
    ['1e999', /not a unit/],
    ['5 $', /not understood/],
    ['9'.repeat(300), /300 characters/],
  ])('%s is refused with its reason', (text, reason) => {
    expect(mm(text)).toMatch(reason)
  })

  test(`any length of a picometre or more survives being opened in a field and entered unchanged, seed ${SEED}`, () => {
    const units = fc.constantFrom<LengthUnit>('mm', 'in', 'fraction')
    const lengths = fc.oneof(
      fc.double({ min: -1e5, max: 1e5, noNaN: true }).filter(x => Math.abs(x) >= 1e-9),
      fc.integer({ min: -9999, max: 9999 }).map(n => (n / 32) * 25.4),
      fc.integer({ min: -99999, max: 99999 }).map(n => n / 100),
    )
    fc.assert(
      fc.property(lengths, units, (length, unit) => mm(exactLength(length, unit), unit) === (length || 0)),
      { seed: SEED, numRuns: 3000 },
    )
  })

  test(`no text makes the reader throw, seed ${SEED}`, () => {
    const bits = fc.constantFrom(
      '1',
      '3/8',
      '.',
      ' ',
      '+',
      '-',
      '*',
      '/',
      '(',
      ')',
      'in',
      "'",
      '"',
      'mm',
      '−',
      '½',
      'x',
      '0',
    )
    fc.assert(
      fc.property(fc.array(bits, { maxLength: 14 }), parts => {
        const r = parseLength(parts.join(''), 'mm')
        return r.ok ? Number.isFinite(r.mm) : r.reason.length > 5
      }),
      { seed: SEED, numRuns: 5000 },
    )
  })
})

describe('a shown length', () => {
  test.each<[number, LengthUnit, string]>([
    [157.1625, 'mm', '157.16'],
    [157, 'mm', '157'],
    [28.575, 'mm', '28.58'],
    [-1.005, 'mm', '-1.01'],
    [1e-9, 'mm', '0'],
    [1e22, 'mm', '1e+22'],
    [-0.001, 'mm', '0'],
    [157.1625, 'in', '6.1875'],
    [157.1625, 'fraction', '6 3/16'],
    [-157.1625, 'fraction', '-6 3/16'],
    [25.4 * 0.4999, 'fraction', '1/2'],
    [25.4 * 0.999, 'fraction', '1'],
    [0.1, 'fraction', '0'],
    [Number.NaN, 'mm', '—'],
  ])('%d mm in %s reads %s', (length, unit, wanted) => {
    expect(formatLength(length, unit)).toBe(wanted)
  })

  test('the error of a fraction is stated, written less true', () => {
    expect(fractionError(157.1625)).toBe(0)
    expect(fractionError(100, 32)).toBeCloseTo(3.9375 * 25.4 - 100, 12)
    expect(Math.abs(fractionError(100.3, 16))).toBeLessThanOrEqual(25.4 / 32)
  })

  test('columns that line up keep their zeros, and the unit is written when asked', () => {
    expect(formatLength(5, 'mm', { digits: 1, fixed: true, withUnit: true })).toBe('5.0 mm')
    expect(formatLength(100, 'fraction', { fractionOf: 16, withUnit: true })).toBe('3 15/16 in')
  })
})

describe('a typed angle', () => {
  test.each<[string, number]>([
    ['22.5', 22.5],
    ['22 1/2°', 22.5],
    ["12° 30'", 12.5],
    ['90/4 deg', 22.5],
    ['-180', -180],
    ['180-45', 135],
  ])('%s is %d degrees', (text, wanted) => {
    const r = parseAngle(text)
    expect(r.ok && r.deg).toBe(wanted)
  })
  test('radians are taken', () => {
    const r = parseAngle('0.5rad')
    expect(r.ok && r.deg).toBeCloseTo(28.64788975654116, 12)
  })
  test('a length is no angle', () => {
    expect(parseAngle('5mm')).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/"mm" is not a unit/),
    })
    expect(formatAngle(-1e-9)).toBe('0')
  })
})
