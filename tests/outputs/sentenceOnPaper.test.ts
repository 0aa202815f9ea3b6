import { expect, test } from 'vitest'
import { mm, say } from '../../src/document/sentence.ts'
import { wrapText } from '../../src/outputs/paperFont.ts'
import { sentenceOnPaper } from '../../src/outputs/sentenceOnPaper.ts'

test('no line of a sentence on paper ends within a length, however narrow the column', () => {
  const sentence = say`straight ${String(4)} runs ${mm(154.8)} into the bench top, ${mm(14.9, 15)} of ${mm(15, 14.9)}`
  const whole = sentenceOnPaper(sentence, 'fraction', {})
  expect(whole).toMatch(/6\u00a03\/32\u00a0in/)
  for (let width = 30; width < 120; width++) {
    const lines = wrapText(whole, width, 3)
    expect(lines.join(' ')).toBe(
      'straight 4 runs 6 3/32 in into the bench top, 19/32 in (0.5866 in) of 19/32 in (0.5906 in)',
    )
    for (const line of lines) {
      expect(line).not.toMatch(/(^|\D )\d+$/)
      expect(line).not.toMatch(/^(3\/32|in\b(?! into)|\(0)/)
    }
  }
})
