import { describe, expect, it, test } from 'vitest'
import { askAboutAngle, askAboutBlindAngle, askAboutDial } from '../../src/bender/askAboutAngle.ts'
import { askAboutSpringback } from '../../src/bender/askAboutSpringback.ts'
import { askAboutFollowerGap, askAboutTooling } from '../../src/bender/askAboutTooling.ts'
import { fitTrials, springbackRecord } from '../../src/bender/springback.ts'
import { KNOWN_BENDERS } from '../../src/document/knownBenders.ts'
import { inMm, inUnit, type Sentence } from '../../src/document/sentence.ts'
import type { Springback } from '../../src/document/types.ts'

const words = (sentence: Sentence | null) => (sentence === null ? null : inMm(sentence))
const record: Springback = { material: '316', offset: 0.8, perDegree: 0.04, range: [30, 120] }

describe('an angle measured at the bench', () => {
  it('that the record expects is used without a question', () => {
    for (const dial of [20, 40, 90, 150])
      for (const off of [-3, 0, 1.5])
        expect(words(askAboutAngle({ dial, measured: (dial - 0.8) / 1.04 + off }, [record]))).toBeNull()
  })
  it('with a slip of the decimal is asked about, with what was expected and where the dial stood', () => {
    expect(words(askAboutAngle({ dial: 40, measured: 3.75 }, [record]))).toBe(
      '3.75° measured where about 37.7° was expected, with the dial at 40.0°',
    )
    expect(words(askAboutAngle({ dial: 47.6, measured: 4.5 }, [record]))).toMatch(
      /^4\.5° .* 45\.0° was expected/,
    )
  })
  it('with a slip is asked about on a bender without any record, too', () => {
    expect(words(askAboutAngle({ dial: 40, measured: 3.75 }, []))).toMatch(/springback of 36\.3°, more than/)
    expect(words(askAboutAngle({ dial: 90, measured: 50 }, []))).toMatch(/springback of 40\.0°/)
    expect(askAboutAngle({ dial: 90, measured: 82 }, [])).toBeNull()
  })
  it('above the dial is asked about whatever is on record; as far as two readings differ it is not', () => {
    for (const known of [[], [record]]) {
      expect(words(askAboutAngle({ dial: 85, measured: 95 }, known))).toMatch(/never on: are the two swapped/)
      expect(words(askAboutAngle({ dial: 30, measured: 33 }, known))).toMatch(/swapped/)
    }
    expect(askAboutAngle({ dial: 85, measured: 85.9 }, [])).toBeNull()
  })
  it('is believed when the trials of the day say so, though the record does not', () => {
    const soft: Springback = { material: '316', offset: 14, perDegree: 0, range: [85, 85] }
    expect(askAboutAngle({ dial: 99, measured: 85 }, [record])).not.toBeNull()
    expect(askAboutAngle({ dial: 99, measured: 85 }, [record, soft])).toBeNull()
  })
  it('is held against the wanted angle where no dial reading is known', () => {
    expect(words(askAboutBlindAngle(45, 4.5))).toBe('4.5° measured; 45.0° is required')
    expect(askAboutBlindAngle(45, 60)).not.toBeNull()
    expect(askAboutBlindAngle(45, 43)).toBeNull()
  })
  it('is held against the physical limits when the record itself is nonsense', () => {
    const nonsense: Springback = { material: '316', offset: 0, perDegree: -1, range: null }
    expect(words(askAboutAngle({ dial: 40, measured: 3.75 }, [nonsense]))).toMatch(/more than a metal tube/)
    expect(askAboutAngle({ dial: 40, measured: 38 }, [nonsense])).toBeNull()
  })
})

test('a dial reading past the stop or past a whole turn is asked about', () => {
  expect(words(askAboutDial(930, 190))).toBe('a dial of 930° is more than one whole turn')
  expect(words(askAboutDial(195, 190))).toBe('a dial of 195° is past the stop at 190.0°')
  expect(askAboutDial(190.5, 190)).toBeNull()
})

describe('what trials say of the springback', () => {
  const ask = (pairs: readonly (readonly [number, number])[], wanted: readonly number[]) =>
    words(
      askAboutSpringback(
        springbackRecord('316', fitTrials(pairs.map(([dial, measured]) => ({ dial, measured })))),
        wanted,
        190,
      )?.sentence ?? null,
    )
  it('is asked about when a dial comes out past the stop, as by a line that hardly rises', () => {
    expect(
      ask(
        [
          [10, 9],
          [100, 10],
        ],
        [45],
      ),
    ).toMatch(/^for 45\.0° it gives a dial of 3\d{3}\.\d°, past the stop at 190\.0°$/)
  })
  it('is asked about when a dial comes out under the angle that is to stay, as by a line that rises 80 to 1', () => {
    expect(
      ask(
        [
          [1, 1],
          [2, 81],
        ],
        [45],
      ),
    ).toMatch(/less than the angle that is to stay/)
    expect(ask([[85, 95]], [90])).toMatch(/less than the angle that is to stay/)
  })
  it('is asked about when it is more than a metal tube gives back', () => {
    expect(ask([[90, 50]], [90])).toMatch(/springback of 40\.0°/)
  })
  it('is not asked about where it is like a tube, and an angle past the stop anyway is another question', () => {
    expect(
      ask(
        [
          [31.5, 30],
          [63, 60.5],
          [93.4, 90],
        ],
        [30, 45, 90],
      ),
    ).toBeNull()
    expect(ask([[31.5, 30]], [200])).toBeNull()
    for (const { bender } of KNOWN_BENDERS)
      for (const s of bender.springback) expect(askAboutSpringback(s, [5, 45, 90, 135, 170], 190)).toBeNull()
  })
})

describe('a figure of the tooling', () => {
  const die = { od: 12, clr: 36 }
  it('that fits no bench is asked about, in the unit that is read', () => {
    expect(words(askAboutTooling(die, 'clampGrip', 300))).toBe(
      'a clamp grip of 300 mm for a tube of 12 mm OD: 6 mm to 96 mm would be usual',
    )
    expect(inUnit(askAboutTooling(die, 'referenceOffset', 500)!, 'in')).toMatch(
      /^a reference line 19\.68\d* in/,
    )
    expect(askAboutTooling(die, 'referenceOffset', -500)).not.toBeNull()
    expect(askAboutTooling(die, 'clr', 5)).not.toBeNull()
    expect(askAboutTooling(die, 'maxAngle', 9)).not.toBeNull()
    expect(askAboutTooling(die, 'stretchAt90', 20)).not.toBeNull()
    expect(askAboutFollowerGap(12, 100)).not.toBeNull()
  })
  it('of the benders that come along is taken as it is', () => {
    for (const { bender } of KNOWN_BENDERS)
      for (const t of bender.tooling)
        for (const key of ['clr', 'clampGrip', 'followerLength', 'referenceOffset', 'maxAngle'] as const)
          expect(words(askAboutTooling(t, key, t[key]))).toBeNull()
    expect(askAboutFollowerGap(12, 10)).toBeNull()
  })
})
