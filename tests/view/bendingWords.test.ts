import { describe, expect, it } from 'vitest'
import type { MotionClearance } from '../../src/bender/clearStep.ts'
import { orderWords, readOrder } from '../../src/bender/orderText.ts'
import { barredWords, clearanceSentence, judge, wayOutWords } from '../../src/view/bending/clearanceWords.ts'

const motion: MotionClearance = {
  motion: 'bend',
  unit: 'deg',
  from: 0,
  to: 93,
  atLeast: 4.2,
  depth: null,
  at: 61.25,
  part: { kind: 'straight', index: 0 },
  solid: 'bench top',
  unknown: null,
  leftOut: null,
}

describe('clearance in words', () => {
  it('names motion, place, part, solid and depth of a contact', () => {
    const hit = { ...motion, atLeast: -7.4, depth: 7.36 }
    expect(clearanceSentence(hit, 'mm')).toBe('bending at 61.3°: straight 1 and bench top meet, 7.4 mm deep')
    expect(judge(hit)).toBe('contact')
  })

  it('never shows a motion that was not checked as clear', () => {
    expect(judge(null)).toBe('notChecked')
    expect(judge({ ...motion, atLeast: null, at: null })).toBe('notChecked')
    expect(clearanceSentence({ ...motion, atLeast: null, at: null }, 'mm')).toBe('bending: not checked')
  })

  it('calls contact without depth touching, a small clearance close and a large one clear', () => {
    const touching = { ...motion, atLeast: -0.01, depth: 0 }
    expect(judge(touching)).toBe('contact')
    expect(clearanceSentence(touching, 'mm')).toBe('bending at 61.3°: straight 1 and bench top touch')
    expect(judge(motion)).toBe('close')
    expect(judge({ ...motion, atLeast: 25 })).toBe('clear')
  })
})

describe('the arm that swings back', () => {
  const back: MotionClearance = { ...motion, motion: 'armBack', from: 93, to: 0, solid: 'clamp block' }
  it('is told with the angle where the arm stands', () => {
    expect(clearanceSentence({ ...back, atLeast: -3.2, depth: 3.1 }, 'mm')).toBe(
      'arm returning at 61.3°: straight 1 and clamp block meet, 3.1 mm deep',
    )
  })

  it('is told to stay where it is, with what it would meet', () => {
    expect(barredWords({ ...back, atLeast: -3.2, depth: 3.1 }, 'mm')).toBe(
      'the arm cannot return past the tube: at 61.3° straight 1 and clamp block meet, 3.1 mm deep',
    )
  })

  it('is not checked, with the reason, when no solid moves with the arm', () => {
    const none = { ...back, atLeast: null, at: null, part: null, solid: null }
    expect(judge(none)).toBe('notChecked')
    expect(clearanceSentence(none, 'mm')).toBe(
      'arm returning: not checked, no solid is given that moves with the arm',
    )
  })

  it('says what taking the tube out first would do, either way, and nothing where nothing was asked', () => {
    const out: MotionClearance = { ...motion, motion: 'takeOut', unit: 'mm', at: 12, solid: 'clamp arm' }
    expect(wayOutWords({ ...out, atLeast: 9.8 }, 'mm')).toBe(
      'remove the tube before returning the arm, if this bender opens far enough: it comes out with 9.8 mm to spare',
    )
    expect(wayOutWords({ ...out, atLeast: -1.1, depth: 1 }, 'mm')).toBe(
      'removed before the arm returns, the tube would touch as well: taking out at 12.0 mm: straight 1 and clamp arm',
    )
    expect(wayOutWords(null, 'mm')).toBeNull()
  })
})

describe('an order of bends as it is typed', () => {
  it('reads one leading end for all, or one for each, and comes back the same', () => {
    for (const text of ['A 1 2 3', 'B 3 2 1', '1A 3B 2A']) {
      const order = readOrder(text, 3)
      if (typeof order === 'string') throw new Error(order)
      expect(orderWords(order)).toBe(text)
    }
    expect(readOrder('2, 1;3', 3)).toEqual([
      { bend: 1, lead: 'A' },
      { bend: 0, lead: 'A' },
      { bend: 2, lead: 'A' },
    ])
  })

  it('refuses with the reason', () => {
    expect(readOrder('1 2', 3)).toBe('bend 3 is missing')
    expect(readOrder('1 1 2 3', 3)).toBe('bend 1 is listed twice')
    expect(readOrder('1 2 4', 3)).toMatch(/bend 4 is not there: bends are 1 to 3/)
    expect(readOrder('1 x 2', 3)).toMatch(/"X" is neither/)
    expect(readOrder('', 2)).toBe('bends 1 and 2 are missing')
  })
})
