import { describe, expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import { salvageDocument } from '../../src/document/salvageDocument.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { seeded } from '../random.ts'
import { documentOf, port, runOf } from './sampleDocument.ts'

const fittings = [port('pa', [0, 0, 0], [1, 0, 0]), port('pb', [500, 0, 0], [-1, 0, 0])]
const whole = documentOf(
  [
    runOf('r1', [[100, 0, 0]], { endA: { kind: 'port', fitting: 'pa' } }),
    runOf('r2', [[100, 50, 0]]),
    runOf('r3', [[100, 90, 0]], { endB: { kind: 'port', fitting: 'pb' } }),
  ],
  fittings,
)
type Breakable = ReturnType<typeof JSON.parse>
const broken = (how: (d: Breakable) => void) => {
  const d = JSON.parse(JSON.stringify(whole))
  how(d)
  return JSON.stringify(d)
}
const runsOf = (text: string) => salvageDocument(text)?.document.runs.map(r => r.id)

describe('the sound part of a damaged file', () => {
  test('a run with one bad figure is left out whole, the others are as they were', () => {
    const saved = salvageDocument(
      broken(d => {
        d.runs[1].vertices[0].at[1] = 'fifty'
      }),
    )!
    expect(saved.document.runs).toEqual([whole.runs[0], whole.runs[2]])
    expect(saved.leftOut).toEqual([
      expect.stringMatching(/^"TAG-r2": runs\[1\]\.vertices\[0\]\.at\[1\]: found "fifty"; wanted a number$/),
    ])
    expect(saved.kept).toContainEqual({ list: 'runs', kept: 2, of: 3 })
  })

  test('what refers to a part that is left out is left out, too', () => {
    const saved = salvageDocument(
      broken(d => {
        d.fittings[0].axis = [0, 0, 0]
      }),
    )!
    expect(saved.document.fittings.map(f => f.id)).toEqual(['pb'])
    expect(saved.document.runs.map(r => r.id)).toEqual(['r2', 'r3'])
    expect(saved.leftOut.join('\n')).toMatch(/"TAG-r1": runs\[0\]\.endA\.fitting: found "pa"/)
  })

  test('a bad field of the skid itself has its plain value again, and that is told', () => {
    const saved = salvageDocument(
      broken(d => {
        d.clearances = 7
        d.extra = 'unknown'
      }),
    )!
    expect(saved.document.runs).toHaveLength(3)
    expect(saved.leftOut.join('\n')).toMatch(/clearances: found 7/)
    expect(saved.leftOut.join('\n')).toMatch(/extra: found the field "extra"/)
  })

  test('a file that was cut off gives the parts before the cut, none of them half', () => {
    const text = writeDocument(whole)
    const cut = text.slice(0, text.indexOf('"r3"') + 40)
    expect(runsOf(cut)).toEqual(['r1', 'r2'])
    expect(salvageDocument(cut)!.leftOut[0]).toMatch(
      /^everything after line \d+ of the file: its text is no JSON/,
    )
  })

  test('wherever a file is cut, what is saved are runs of the file as they were, seed 77', () => {
    const text = writeDocument(whole)
    const random = seeded(77)
    for (let i = 0; i < 200; i++) {
      const saved = salvageDocument(text.slice(0, random.whole(0, text.length - 3)))
      if (!saved) continue
      expect(whole.runs.slice(0, saved.document.runs.length)).toEqual(saved.document.runs)
      const read = readDocument(writeDocument(saved.document))
      expect(read.ok && read.document).toEqual(saved.document)
    }
  })

  test('junk in the middle of the text ends the sound part there', () => {
    const text = writeDocument(whole)
    const at = text.indexOf('"r2"')
    expect(runsOf(`${text.slice(0, at)}@@@${text.slice(at)}`)).toEqual(['r1'])
  })

  test('nothing is offered of a good file, of one that is no skid, of a newer one, or where no part is sound', () => {
    expect(salvageDocument(writeDocument(whole))).toBeNull()
    expect(salvageDocument('{"format":"other","runs":[1]}')).toBeNull()
    expect(salvageDocument('')).toBeNull()
    expect(
      salvageDocument(
        broken(d => {
          d.version = 99
          d.runs[0].tag = 7
        }),
      ),
    ).toBeNull()
    expect(
      salvageDocument(
        broken(d => {
          d.runs = [1, 2]
          d.fittings = ['x']
          d.benders = [{}]
        }),
      ),
    ).toBeNull()
  })
})

test('an older file says what was converted, one of now says nothing', () => {
  const { models, supports, supportSpan, viewpoints, ...older } = JSON.parse(JSON.stringify(whole))
  const read = readDocument(JSON.stringify({ ...older, version: 1 }))
  expect(read.ok && read.converted).toEqual([
    'The file is of format version 1. Added, and empty: models, supports, maximum span between supports, saved views. Saving writes version 2.',
  ])
  const now = readDocument(writeDocument(whole))
  expect(now.ok && now.converted).toBeUndefined()
})
