import { describe, expect, it } from 'vitest'
import { orderFrom } from '../../src/bench/layOut.ts'
import { freshProgress, isProgress, trialsOf, withAt } from '../../src/view/bending/progress.ts'

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
