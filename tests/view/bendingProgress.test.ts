import { describe, expect, it } from 'vitest'
import { orderFrom } from '../../src/bender/layOut.ts'
import {
  allTrials,
  bendsBegun,
  broughtBack,
  freshProgress,
  isProgress,
  leftOut,
  newPiece,
  type Progress,
  trialsOf,
  withAt,
} from '../../src/view/bending/progress.ts'

const fresh = freshProgress(orderFrom('A', 3))

describe('how far a run has come', () => {
  it('is read back from its own text, and a damaged text is refused', () => {
    const written = {
      ...fresh,
      screen: 4,
      short: withAt(fresh.short, 0, { dial: 85, measured: 82 }),
      figures: {
        cutLength: 700,
        bender: 'b',
        steps: [{ bend: 0, lead: 'A', mark: 10, turn: null, angle: 90 }],
      },
    }
    expect(isProgress(JSON.parse(JSON.stringify(written)))).toBe(true)
    const damaged: unknown[] = [
      null,
      7,
      {},
      { ...written, version: 2 },
      { ...written, screen: -1 },
      { ...written, screen: 1.5 },
      { ...written, order: [{ bend: 0.5, lead: 'A' }] },
      { ...written, measured: [null] },
      { ...written, short: [{ dial: 'x', measured: 1 }, null, null] },
      { ...written, figures: { cutLength: 1 } },
      { ...written, leftAt: 'two' },
      { ...written, laidOutWith: { material: '316' } },
    ]
    for (const text of damaged) expect(isProgress(text)).toBe(false)
  })

  it('counts every short stop, finished bend and piece bent elsewhere as a trial', () => {
    const at = {
      ...fresh,
      extra: [{ dial: 47, measured: 45 }],
      short: withAt(fresh.short, 0, { dial: 85, measured: 82 }),
      measured: withAt(fresh.measured, 0, { dial: 93, measured: 90 }),
    }
    expect(trialsOf(at).map(t => t.dial)).toEqual([47, 85, 93])
  })
})

describe('a trial', () => {
  const with4: Progress = {
    ...fresh,
    extra: [{ dial: 47, measured: 45 }],
    short: withAt(fresh.short, 0, { dial: 85, measured: 82 }),
    measured: withAt(withAt(fresh.measured, 0, { dial: 93, measured: 90 }), 1, { dial: null, measured: 46 }),
  }
  it('is left out and put back wherever it is kept, and an angle without its dial is none', () => {
    expect(allTrials(with4)).toHaveLength(3)
    for (const trial of allTrials(with4)) {
      const without = { ...with4, ...leftOut(with4, trial, true) }
      expect(trialsOf(without)).toHaveLength(2)
      expect(trialsOf(without).map(t => t.dial)).not.toContain(trial.dial)
      const back = { ...without, ...leftOut(without, trial, false) }
      expect(trialsOf(back)).toEqual(trialsOf(with4))
      expect(isProgress(JSON.parse(JSON.stringify(without)))).toBe(true)
    }
  })
})

describe('a new piece', () => {
  const inWork: Progress = {
    ...fresh,
    screen: 5,
    where: { kind: 'measure', step: 1 },
    extra: [{ dial: 47, measured: 45 }],
    short: withAt(fresh.short, 0, { dial: 85, measured: 82 }),
    measured: withAt(fresh.measured, 0, { dial: 93, measured: 90, out: true }),
  }
  it('puts the one in work away as it is and keeps what was measured as trials', () => {
    const next = newPiece(inWork, { screen: 0 })
    expect([...next.measured, ...next.short]).toEqual(Array.from({ length: 6 }, () => null))
    expect(next.putAway).toMatchObject({ screen: 5, measured: inWork.measured, short: inWork.short })
    expect(allTrials(next).map(t => [t.dial, t.out])).toEqual(allTrials(inWork).map(t => [t.dial, t.out]))
    expect(isProgress(JSON.parse(JSON.stringify(next)))).toBe(true)
    expect(newPiece(fresh, {}).putAway).toBeNull()
  })
  it('is exchanged for the one before without losing or doubling a trial', () => {
    const next = newPiece(inWork, { screen: 0 })
    const worked: Progress = {
      ...next,
      measured: withAt(next.measured, 2, { dial: 31, measured: 30 }),
      extra: [...next.extra.slice(0, 1), { ...next.extra[1]!, out: true }, next.extra[2]!],
    }
    const back = broughtBack(worked)
    expect(back).toMatchObject({ screen: 5, where: inWork.where })
    expect(back.measured[0]).toMatchObject({ dial: 93, out: true })
    // What was left out meanwhile stays left out.
    expect(back.short[0]).toMatchObject({ dial: 85, out: true })
    expect(
      allTrials(back)
        .map(t => t.dial)
        .sort((a, b) => a - b),
    ).toEqual([31, 47, 85, 93])
    expect(back.putAway?.measured[2]).toMatchObject({ dial: 31 })
  })
  it('counts a bend as begun from its first stop on', () => {
    const at = (where: Progress['where']) => bendsBegun({ ...fresh, where })
    expect(at({ kind: 'cut' })).toBe(0)
    expect(at({ kind: 'bend', step: 1 })).toBe(1)
    expect(at({ kind: 'readShort', step: 1 })).toBe(2)
    expect(at({ kind: 'measure', step: 1 })).toBe(2)
    expect(at({ kind: 'finished' })).toBe(3)
    expect(bendsBegun({ ...inWork, where: { kind: 'cut' } })).toBe(1)
  })
})
