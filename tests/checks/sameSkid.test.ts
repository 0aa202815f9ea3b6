import { expect, test } from 'vitest'
import { sameSkid } from '../../src/checks/sameSkid.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { SAMPLE } from '../outputs/sampleDocument.ts'

const run = SAMPLE.runs[0]!
const skid = (...runs: readonly (readonly [id: string, tag: string])[]): SkidDocument => ({
  ...SAMPLE,
  runs: runs.map(([id, tag]) => ({ ...run, id, tag })),
})
const three = skid(['r1', 'AE-1'], ['r2', 'AE-2'], ['r3', 'AE-3'])

test('a later save is the same skid: renamed, with runs added, with up to half of them gone or with other tags', () => {
  expect(sameSkid(three, { ...structuredClone(three), name: 'Another name' })).toBe(true)
  expect(sameSkid(three, skid(['r1', 'AE-1'], ['r2', 'AE-2'], ['r3', 'AE-9'], ['r4', 'AE-4']))).toBe(true)
  expect(sameSkid(three, skid(['r1', 'AE-1']))).toBe(true)
  expect(sameSkid(skid(['r1', 'AE-1'], ['r2', 'AE-2']), skid(['r1', 'AE-1'], ['r2', 'AE-7']))).toBe(true)
})
test('equal ids alone do not make the same skid, nor does an equal name', () => {
  expect(sameSkid(three, skid(['r1', 'WS-1'], ['r2', 'WS-2'], ['r3', 'WS-3']))).toBe(false)
  expect(sameSkid(three, skid(['r1', 'AE-1'], ['r8', 'AE-8'], ['r9', 'AE-9']))).toBe(false)
})
test('of a document without runs nothing is known', () => {
  expect(sameSkid(three, emptyDocument(three.name))).toBe(false)
  expect(sameSkid(emptyDocument('a'), emptyDocument('a'))).toBe(false)
})
