import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { dieOf, toolingOf } from '../../src/document/lookUp.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Bender, SkidDocument, Tooling } from '../../src/document/types.ts'
import { unmeasuredWords, withMeasured } from '../../src/document/unmeasured.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'

const TEXT = readFileSync('sample-routes/first-route.json', 'utf8')

function read(text: string): SkidDocument {
  const result = readDocument(text)
  if (!result.ok) throw new Error(result.errors[0]!.message)
  return result.document
}
const document = read(TEXT)
const [bender] = document.benders as [Bender]
const run = document.runs[0]!
const withTooling = (change: (t: Tooling) => object): SkidDocument => ({
  ...document,
  benders: [{ ...bender, tooling: bender.tooling.map(t => ({ ...t, ...change(t) })) }],
})

test('a file says which figures of a tooling are not measured, and what gap the follower wants, and is read so again', () => {
  const said = withTooling(() => ({ notMeasured: ['referenceOffset'] }))
  const gap = { ...said, benders: said.benders.map(b => ({ ...b, followerGap: 9.5 })) }
  const again = read(writeDocument(gap))
  expect(again).toEqual(gap)
  expect(writeDocument(document)).toBe(TEXT)
})

test('a figure that cannot be unmeasured, or a negative gap, is refused with its place', () => {
  const wrong = (text: string) => {
    const result = readDocument(text)
    return result.ok ? '' : result.errors[0]!.message
  }
  const one = writeDocument(withTooling(() => ({ notMeasured: ['clampGrip'] })))
  expect(wrong(one.replaceAll('"clampGrip"]', '"colour"]'))).toMatch(
    /benders\[0\]\.tooling\[0\]\.notMeasured\[0\].*"colour".*clampGrip/,
  )
  const gap = { ...document, benders: [{ ...bender, followerGap: -1 }] }
  expect(wrong(writeDocument(gap))).toMatch(/benders\[0\]\.followerGap.*-1/)
})

test('nothing is worked out with a tooling of which one figure is not measured', () => {
  const [half] = withTooling(() => ({ notMeasured: ['maxAngle'] })).benders
  expect(toolingOf(bender, run)).not.toBeNull()
  expect(toolingOf(half!, run)).toBeNull()
  expect(dieOf(half!, run)?.id).toBe(toolingOf(bender, run)?.id)
})

test('figures are named, and each that is given is one fewer', () => {
  const none: Tooling = {
    ...bender.tooling[0]!,
    notMeasured: ['maxAngle', 'clampGrip', 'referenceOffset', 'followerLength'],
  }
  expect(unmeasuredWords(none)).toBe('clamp grip, follower length, reference offset and stop')
  const grip = withMeasured(none, 'clampGrip', 27)
  expect([grip.clampGrip, unmeasuredWords(grip)]).toEqual([27, 'follower length, reference offset and stop'])
  const all = (['followerLength', 'referenceOffset', 'maxAngle'] as const).reduce(
    (t, key) => withMeasured(t, key, 40),
    grip,
  )
  expect('notMeasured' in all).toBe(false)
})
