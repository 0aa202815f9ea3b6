import { describe, expect, test } from 'vitest'
import { everyDigit, inUnit, joined, lengthText, mm, say, told } from '../../src/document/sentence.ts'

const INCH = 25.4

describe('a sentence', () => {
  const sentence = say`bend ${String(2)} is ${mm(12.3, 15)} from ${'the die'}; ${mm(15, 12.3)} are needed`
  test('is written in any unit from the same exact lengths', () => {
    expect(inUnit(sentence, 'mm')).toBe('bend 2 is 12.3 mm from the die; 15 mm are needed')
    expect(inUnit(sentence, 'in')).toBe('bend 2 is 0.4843 in from the die; 0.5906 in are needed')
    expect(inUnit(sentence, 'fraction')).toBe('bend 2 is 15/32 in from the die; 19/32 in are needed')
    expect(inUnit(sentence, 'fraction', { fractionOf: 64 })).toBe(
      'bend 2 is 31/64 in from the die; 19/32 in are needed',
    )
    expect(inUnit(sentence, 'in', { inchDigits: 3 })).toBe(
      'bend 2 is 0.484 in from the die; 0.591 in are needed',
    )
  })
  test('comes through a worker as it was', () => {
    expect(structuredClone(sentence)).toEqual(sentence)
    expect(inUnit(structuredClone(sentence), 'in')).toBe(inUnit(sentence, 'in'))
  })
  test('takes others in, one or many, and leaves out what is empty', () => {
    const parts = [1, 2].map(n => say`${mm(n * INCH)} of tube`)
    expect(inUnit(say`${joined(parts, ' and ')}${''}${say``}.`, 'in')).toBe('1 in of tube and 2 in of tube.')
    expect(joined([], ', ')).toEqual([])
    expect(told(say`${parts[0]!}`).message).toBe('25.4 mm of tube')
  })
  test('has names of the user as they are, even those that look like lengths', () => {
    expect(inUnit(say`${'Plate 20 mm'} is ${mm(INCH)} away`, 'in')).toBe('Plate 20 mm is 1 in away')
  })
})

describe('a length that would read like its limit', () => {
  test('gets more digits, on both sides', () => {
    expect([29.9999, 30].map(x => lengthText(mm(x, x === 30 ? 29.9999 : 30), 'mm'))).toEqual([
      '29.9999 mm',
      '30 mm',
    ])
    const [is, limit] = [30.16, 30.1625]
    expect([lengthText(mm(is, limit), 'mm'), lengthText(mm(limit, is), 'mm')]).toEqual([
      '30.16 mm',
      '30.163 mm',
    ])
    expect([lengthText(mm(is, limit), 'in'), lengthText(mm(limit, is), 'in')]).toEqual([
      '1.1874 in',
      '1.1875 in',
    ])
    expect(lengthText(mm(30.16249, limit), 'in')).toBe('1.1874996 in')
  })
  test('as a fraction does not stand alone: the decimal follows', () => {
    expect(lengthText(mm(14.9, 15), 'fraction')).toBe('19/32 in (0.5866 in)')
    expect(lengthText(mm(15, 14.9), 'fraction')).toBe('19/32 in (0.5906 in)')
    expect(lengthText(mm(15 - 2e-6, 15), 'fraction')).toBe('19/32 in (0.5905511 in)')
    expect(lengthText(mm(14.9, 15), 'fraction', { fractionOf: 64 })).toBe('19/32 in (0.5866 in)')
    expect(lengthText(mm(14, 15), 'fraction')).toBe('9/16 in')
  })
  test('keeps its zeros where it is to line up, with as many as it takes', () => {
    const fixed = (x: number, ...beside: number[]) => lengthText({ mm: x, beside, fixed: true }, 'mm')
    expect([fixed(12.3, 15), fixed(15, 12.3)]).toEqual(['12.30 mm', '15.00 mm'])
    expect([fixed(14.998, 15), fixed(15, 14.998)]).toEqual(['14.998 mm', '15.000 mm'])
  })
  test('is one with it when only a sum was rounded', () => {
    for (const unit of ['mm', 'in', 'fraction'] as const)
      expect(lengthText(mm(15.0000000001, 15), unit)).toBe(lengthText(mm(15), unit))
  })
})

describe('a length that is not nothing', () => {
  test('never reads like nothing', () => {
    expect(lengthText(mm(0.003), 'mm')).toBe('0.003 mm')
    expect(lengthText(mm(-0.003), 'mm')).toBe('-0.003 mm')
    expect(lengthText(mm(0.001), 'in')).toBe('0.00004 in')
    expect(lengthText(mm(0.2), 'fraction')).toBe('0.0079 in')
    expect(lengthText({ mm: 0.003, fixed: true }, 'mm')).toBe('0.003 mm')
  })
  test('and what is nothing says so', () => {
    expect((['mm', 'in', 'fraction'] as const).map(u => lengthText(mm(0), u))).toEqual([
      '0 mm',
      '0 in',
      '0 in',
    ])
  })
})

describe('a length with every digit', () => {
  test('is as it was read in mm, six figures that count in inches, a fraction only where it is one', () => {
    expect(lengthText(everyDigit(1e-6), 'mm')).toBe('0.000001 mm')
    expect(lengthText(everyDigit(1e-6), 'in')).toBe('3.93701e-8 in')
    expect(lengthText(everyDigit(30.1625), 'fraction')).toBe('1 3/16 in')
    expect(lengthText(everyDigit(30), 'fraction')).toBe('1.1811 in')
    expect(lengthText(everyDigit(Number.NaN, true), 'in')).toBe('NaN')
    expect(lengthText(everyDigit(-INCH, true), 'in')).toBe('-1')
  })
  test('tells a limit that moved by a hair from the one before', () => {
    expect(lengthText({ ...everyDigit(15.00001), beside: [15] }, 'in')).not.toBe(
      lengthText({ ...everyDigit(15), beside: [15.00001] }, 'in'),
    )
  })
})
