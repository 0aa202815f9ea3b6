import { expect, test } from 'vitest'
import { changeOf, withChange } from '../../src/document/documentChange.ts'
import { addRun, editRun, removeRun } from '../../src/document/edits.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { manyRuns } from '../manyRuns.ts'
import { seeded } from '../random.ts'

/** As the other thread gets it. */
const sent = (before: SkidDocument | null, after: SkidDocument) => structuredClone(changeOf(before, after))

test('any edits sent as changes lead to the same document, seed 411', () => {
  const random = seeded(411)
  let here = manyRuns(60)
  let there = withChange(null, sent(null, here))
  for (let i = 0; i < 400; i++) {
    const before = here
    const at = random.whole(0, Math.max(0, here.runs.length - 1))
    const id = here.runs[at]?.id ?? ''
    const edits: (() => SkidDocument)[] = [
      () => editRun(here, id, r => ({ ...r, clr: r.clr + 1 })),
      () => removeRun(here, id),
      () => addRun(here, { ...manyRuns(1, i).runs[0]!, id: `new${i}`, tag: `N-${i}` }),
      () => ({ ...here, runs: [...here.runs].reverse() }),
      () => ({ ...here, name: `Name ${i}`, clearances: { ...here.clearances, tube: i } }),
      () => ({ ...here, runs: [...here.runs.slice(at), ...here.runs.slice(0, at)] }),
      () => ({ ...here, supportSpan: i % 2 === 0 ? null : i }),
    ]
    here = (here.runs.length < 5 ? edits[2]! : edits[random.whole(0, edits.length - 1)]!)()
    const was = there
    there = withChange(there, sent(before, here))
    expect(there).toEqual(here)
    // What was not touched is known again over there.
    here.runs.forEach((run, k) => {
      const place = before.runs.indexOf(run)
      if (place >= 0) expect(there.runs[k]).toBe(was.runs[place])
    })
  }
})

test('of one edit among thousands of runs that run is sent, and nothing else', () => {
  const before = manyRuns(2000)
  const after = editRun(before, 'run777', r => ({ ...r, clr: 41 }))
  const size = (change: unknown) => JSON.stringify(change).length
  expect(size(changeOf(before, after))).toBeLessThan(size(after.runs[776]) + 200)
  expect(changeOf(before, before)).toEqual({ isOfBefore: true, fields: {}, lists: {} })
})

test('a change of a document that is not there is refused', () => {
  const before = manyRuns(2)
  expect(() => withChange(null, changeOf(before, { ...before, name: 'x' }))).toThrow(RangeError)
})
