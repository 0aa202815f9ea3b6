import { describe, expect, it } from 'vitest'
import { orderFrom } from '../../src/bender/layOut.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { programmeOf } from '../../src/view/bending/programme.ts'
import { screensOf, turnInWords } from '../../src/view/bending/screens.ts'
import { benchDocument } from './benchDocument.ts'

function layout(order = orderFrom('A', 3)) {
  const { document, run } = benchDocument()
  const result = programmeOf(document, run, solveRun(document, run), order)
  if (!result.ok) throw new Error(result.reason)
  return result.programme.layout
}
const names = (screens: ReturnType<typeof screensOf>) =>
  screens.map(s => ('step' in s ? `${s.kind} ${s.step + 1}` : s.kind)).join(', ')

describe('the screens from stock to finished tube', () => {
  it('leave the turn out on the first bend and stop short where the habit asks for it', () => {
    expect(names(screensOf(layout(), 'first'))).toBe(
      'cut, slide 1, short 1, readShort 1, bend 1, measure 1, slide 2, turn 2, bend 2, measure 2, slide 3, turn 3, bend 3, measure 3, finished',
    )
    expect(names(screensOf(layout(), 'never'))).not.toContain('short')
    expect(names(screensOf(layout(), 'every'))).toContain('short 3, readShort 3, bend 3')
  })

  it('ask to swing the tube end for end where the leading end changes', () => {
    const mixed = layout([
      { bend: 0, lead: 'A' },
      { bend: 2, lead: 'B' },
      { bend: 1, lead: 'B' },
    ])
    expect(names(screensOf(mixed, 'never'))).toContain('measure 1, around 2, turn 2, slide 2')
    expect(names(screensOf(mixed, 'never'))).not.toContain('around 3')
  })

  it('turn the tube before it is put in from above, after it has slid on', () => {
    const skipping = layout([
      { bend: 2, lead: 'A' },
      { bend: 0, lead: 'A' },
      { bend: 1, lead: 'A' },
    ])
    expect(names(screensOf(skipping, 'never'))).toBe(
      'cut, slide 1, bend 1, measure 1, turn 2, slide 2, bend 2, measure 2, slide 3, turn 3, bend 3, measure 3, finished',
    )
  })

  it('say the direction of a turn in words', () => {
    expect(turnInWords(30)).toContain('clockwise')
    expect(turnInWords(30)).not.toContain('counter')
    expect(turnInWords(-30)).toContain('counter-clockwise')
    // Clearance is certified for this way round only.
    expect(turnInWords(180)).toBe('half turn, clockwise ↻')
    expect(turnInWords(0)).toBe('no rotation, same direction')
    expect(turnInWords(null)).toBe('no rotation, same direction')
  })
})
