import { describe, expect, test } from 'vitest'
import { directionText, readDirection } from '../../src/view/fields/readDirection.ts'

describe('a direction is typed as a whole', () => {
  test.each([
    ['0, 0, 1', [0, 0, 1]],
    ['0 0 1', [0, 0, 1]],
    ['0;-1;0', [0, -1, 0]],
    ['0.5, 0.5, -2', [0.5, 0.5, -2]],
    ['1/3, 0, 0', [1 / 3, 0, 0]],
    ['z', [0, 0, 1]],
    ['-X', [-1, 0, 0]],
    ['−y', [0, -1, 0]],
  ])('%s', (text, value) => {
    expect(readDirection(text)).toEqual({ ok: true, value })
  })

  test.each([
    ['0, 0, 0', /no direction/],
    ['1, 0', /2 parts: type x, y and z/],
    ['0,5, 1, 0', /4 parts: .* with a point for decimals/],
    ['', /0 parts/],
    ['1, q, 0', /^y: "q" is no number/],
    ['w', /1 part:/],
    ['a,b,c', /^x: "a" is no number\. Wanted three numbers/],
    ['1in, 0, 0', /^x: "in" is no number/],
    ['1, #, 0', /^y: .* wanted numbers, \+/],
  ])('%s is refused with the reason', (text, reason) => {
    const read = readDirection(text)
    expect(read.ok).toBe(false)
    expect(read.ok ? '' : read.reason).toMatch(reason)
    expect(read.ok ? '' : read.reason).not.toMatch(/unit|mm/)
  })

  test('is written so that it is read again', () => {
    expect(directionText([0, 0, 1])).toBe('0, 0, 1')
    expect(readDirection(directionText([0.25, -3, 1]))).toEqual({ ok: true, value: [0.25, -3, 1] })
  })
})
