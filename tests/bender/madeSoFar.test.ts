import { describe, expect, it } from 'vitest'
import { type LaidOut, type LaidOutBend, madeSoFar } from '../../src/bender/madeSoFar.ts'

const before: LaidOut = {
  cutLength: 700,
  steps: [
    { bend: 0, lead: 'A', start: 100, turn: null, angle: 90 },
    { bend: 1, lead: 'A', start: 250, turn: 60, angle: 45 },
    { bend: 2, lead: 'A', start: 420, turn: -170, angle: 30 },
  ],
}
const now = (cutLength: number, ...changes: Partial<LaidOutBend>[]): LaidOut => ({
  cutLength,
  steps: before.steps.map((s, i) => ({ ...s, ...changes[i] })),
})

describe('going on with a piece after its run was changed', () => {
  it('is possible while only bends ahead have other figures', () => {
    const later = madeSoFar(before, now(700, {}, {}, { start: 430, angle: 35, turn: 20 }), 2, true)
    expect(later).toEqual({ goOn: 'yes', off: [], cutFirst: null, spare: 0, otherOrder: false })
  })
  it('is possible with stock to spare at the far end, and not with too little', () => {
    expect(madeSoFar(before, now(690), 2, true)).toMatchObject({ goOn: 'yes', spare: 10 })
    expect(madeSoFar(before, now(712), 2, true)).toMatchObject({ goOn: 'no', spare: -12 })
    // Nothing is cut yet: the new length is cut.
    expect(madeSoFar(before, now(712), 0, false)).toMatchObject({ goOn: 'yes', spare: 0 })
  })
  it('is not possible when a made bend lies elsewhere, is turned otherwise or is bent too far, and says by how much', () => {
    expect(madeSoFar(before, now(700, { start: 110 }), 1, true)).toMatchObject({
      goOn: 'no',
      off: [{ bend: 0, lead: 'A', place: 10, turn: 0, angle: 0 }],
    })
    expect(madeSoFar(before, now(700, {}, { turn: 75 }), 2, true)).toMatchObject({
      goOn: 'no',
      off: [{ bend: 1, turn: 15 }],
    })
    expect(madeSoFar(before, now(700, { angle: 80 }), 1, true)).toMatchObject({
      goOn: 'no',
      off: [{ bend: 0, angle: -10 }],
    })
  })
  it('is possible after a cut at the end that led, where every made bend lies too far from it by the same', () => {
    const nearer = now(688, { start: 90 }, { start: 240 })
    expect(madeSoFar(before, nearer, 2, true)).toMatchObject({
      goOn: 'yes',
      cutFirst: { end: 'A', length: 10 },
      spare: 2,
    })
    expect(madeSoFar(before, now(695, { start: 90 }, { start: 240 }), 2, true)).toMatchObject({
      goOn: 'no',
      spare: -5,
    })
    expect(madeSoFar(before, now(688, { start: 90 }, { start: 245 }), 2, true)).toMatchObject({
      goOn: 'no',
      cutFirst: null,
    })
  })
  it('wants a made bend bent on where its angle grew', () => {
    expect(madeSoFar(before, now(700, {}, { angle: 50 }), 2, true)).toMatchObject({
      goOn: 'bendOn',
      off: [{ bend: 1, angle: 5 }],
    })
  })
  it('counts a half turn the other way round as the same', () => {
    expect(madeSoFar(before, now(700, {}, {}, { turn: 190 }), 3, true).goOn).toBe('yes')
  })
  it('lets differences that no tape and no protractor show pass, and still names them', () => {
    const hair = madeSoFar(before, now(700.2, { start: 100.3 }, { angle: 44.8 }), 2, true)
    expect([hair.goOn, hair.off.map(b => b.bend)]).toEqual(['yes', [0, 1]])
  })
  it('is not possible in an order that the made bends do not begin, and is where only later bends are in another one', () => {
    const [a, b, c] = before.steps as [LaidOutBend, LaidOutBend, LaidOutBend]
    expect(madeSoFar(before, { cutLength: 700, steps: [b, a, c] }, 1, true)).toMatchObject({
      goOn: 'no',
      otherOrder: true,
    })
    expect(madeSoFar(before, { cutLength: 700, steps: [a, c, b] }, 1, true).goOn).toBe('yes')
    expect(madeSoFar(before, { cutLength: 700, steps: [{ ...a, lead: 'B' }, b, c] }, 1, true).goOn).toBe('no')
    expect(madeSoFar(before, { cutLength: 700, steps: [a, b] }, 1, true).otherOrder).toBe(true)
  })
  it('is not possible with stock to spare between bends that were made from both ends', () => {
    const steps = before.steps.map((s, i) => (i === 1 ? { ...s, bend: 2, lead: 'B' as const } : s))
    const mixed: LaidOut = { cutLength: 700, steps }
    expect(madeSoFar(mixed, { cutLength: 690, steps }, 2, true).goOn).toBe('no')
    expect(madeSoFar(mixed, { cutLength: 690, steps }, 1, true).goOn).toBe('yes')
  })
})
