import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'

const TEXT = readFileSync('sample-routes/first-route.json', 'utf8')

function read(text: string): SkidDocument {
  const result = readDocument(text)
  if (!result.ok) throw new Error(result.errors[0]!.message)
  return result.document
}

const asked = (margin: unknown): string => {
  const raw = JSON.parse(TEXT) as { benders: object[] }
  return JSON.stringify({ ...raw, benders: raw.benders.map(b => ({ ...b, margin })) })
}

test('a file whose bender has no margin is written as it was, byte for byte', () => {
  const document = read(TEXT)
  expect('margin' in document.benders[0]!).toBe(false)
  expect(writeDocument(document)).toBe(TEXT)
})

test('a margin is read and written again, 0 included', () => {
  for (const margin of [0, 6.5, 25]) {
    const document = read(asked(margin))
    expect(document.benders[0]!.margin).toBe(margin)
    expect(read(writeDocument(document))).toEqual(document)
  }
})

test('a margin that is no length is refused with its place', () => {
  for (const wrong of ['10', -1, null]) {
    const result = readDocument(asked(wrong))
    expect(result.ok).toBe(false)
    if (!result.ok) expect(result.errors[0]!.message).toMatch(/benders\[0\]\.margin/)
  }
})
