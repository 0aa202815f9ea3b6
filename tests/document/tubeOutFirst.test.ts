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

const told = (value: unknown): string => {
  const raw = JSON.parse(TEXT) as { benders: object[] }
  return JSON.stringify({ ...raw, benders: raw.benders.map(b => ({ ...b, tubeOutFirst: value })) })
}

test('a file that does not say what goes first after a bend is written as it was, byte for byte', () => {
  const document = read(TEXT)
  expect('tubeOutFirst' in document.benders[0]!).toBe(false)
  expect(writeDocument(document)).toBe(TEXT)
})

test('a bender that lets the tube out first says so in the file and is read so again', () => {
  const document = read(told(true))
  expect(document.benders[0]!.tubeOutFirst).toBe(true)
  expect(document.version).toBe(read(TEXT).version)
  const again = read(writeDocument(document))
  expect(again).toEqual(document)
  expect(writeDocument(again)).toBe(writeDocument(document))
})

test('anything but true or false is refused with its place', () => {
  const result = readDocument(told('yes'))
  expect(result.ok).toBe(false)
  if (!result.ok)
    expect(result.errors[0]!.message).toMatch(/benders\[0\]\.tubeOutFirst.*"yes".*true or false/)
})
