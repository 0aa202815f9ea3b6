import { describe, expect, it } from 'vitest'
import { orderFrom } from '../../src/bender/layOut.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { followedFigures, programmeOf, whatChanged } from '../../src/view/bending/programme.ts'
import { benchDocument } from './benchDocument.ts'

const ofRun = (document: SkidDocument, run: Run, lead: 'A' | 'B' = 'A') =>
  programmeOf(document, run, solveRun(document, run), orderFrom(lead, 3))

function programme(document: SkidDocument, run: Run, lead: 'A' | 'B' = 'A') {
  const result = ofRun(document, run, lead)
  if (!result.ok) throw new Error(result.reason)
  return result.programme
}

describe('the figures of a run at the bench', () => {
  it('says what is missing, with its figures, instead of giving numbers', () => {
    const { document, run } = benchDocument()
    const reason = (d: SkidDocument, r: Run) => {
      const result = ofRun(d, r)
      return result.ok ? 'nothing' : `${result.missing}: ${result.reason}`
    }
    expect(reason(document, { ...run, bender: null })).toMatch(/^bender: no bender is chosen for run T-1/)
    expect(reason(document, { ...run, clr: 50 })).toMatch(/^tooling: .*OD 12 mm with CLR 50 mm/)
    expect(reason(document, { ...run, vertices: [] })).toMatch(/^bends: .*nothing to bend/)
    expect(reason(document, { ...run, vertices: run.vertices.map(v => ({ ...v, at: [0, 0, 0] })) })).toMatch(
      /^route: /,
    )
    const short = benchDocument([150, -4, 160, 140])
    expect(reason(short.document, short.run)).toMatch(/^length: straight 2 is 4 mm too short/)
  })

  it('takes the springback of trials before the record of the bender', () => {
    const { document, run } = benchDocument()
    const solved = solveRun(document, run)
    const trials = { material: '316', offset: 3, perDegree: 0, range: null }
    const result = programmeOf(document, run, solved, null, trials)
    expect(result.ok && result.programme.layout.steps.map(s => s.dial! - s.angle)).toEqual([
      expect.closeTo(3, 9),
      expect.closeTo(3, 9),
      expect.closeTo(3, 9),
    ])
  })

  it('notices every kind of change since the work was begun, and none when there is none', () => {
    const { document, run } = benchDocument()
    const begun = followedFigures(programme(document, run))
    expect(whatChanged(begun, followedFigures(programme(document, run)))).toEqual([])

    const longer = benchDocument([150, 182, 160, 140])
    const said = whatChanged(begun, followedFigures(programme(longer.document, longer.run)))
    expect(said.join('; ')).toMatch(/cut length was .* is now/)
    expect(said.join('; ')).toMatch(/bend 2: mark was .*, is now/)
    expect(said.join('; ')).not.toMatch(/bend 1:/)

    expect(whatChanged(begun, followedFigures(programme(document, run, 'B')))).toEqual([
      'the order of the bends changed',
    ])
    expect(whatChanged(begun, { ...begun, bender: 'other' })).toEqual(['another bender is chosen'])
    expect(whatChanged(begun, { ...begun, steps: begun.steps.slice(1) })).toEqual(['bends: were 3, now 2'])
    const turned = begun.steps.map((s, i) => (i === 1 ? { ...s, turn: s.turn! + 1 } : s))
    expect(whatChanged(begun, { ...begun, steps: turned })).toEqual(['bend 2: rotation was 60°, is now 61°'])
  })
})
