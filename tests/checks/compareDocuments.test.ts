import { describe, expect, test } from 'vitest'
import { differenceOf } from '../../src/checks/change.ts'
import { compareDocuments } from '../../src/checks/compareDocuments.ts'
import { movePoint } from '../../src/document/edits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { changeValue } from '../../src/outputs/compareText.ts'
import { jsonText } from '../../src/outputs/jsonText.ts'

const run = (id: string, tag: string): Run => ({
  id,
  tag,
  service: 'air',
  tube: { catalogueId: null, od: 10, wall: 1, material: '316' },
  clr: 30,
  bender: null,
  endA: { kind: 'free', at: [0, 0, 0] },
  vertices: [{ id: 'v1', at: [200, 0, 0] }],
  endB: { kind: 'free', at: [200, 150, 0] },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
})
const document: SkidDocument = { ...emptyDocument('x'), runs: [run('r1', 'AE-1'), run('r2', 'AE-2')] }

describe('comparing two versions of a document', () => {
  test('the same document has no change', () => {
    expect(compareDocuments(document, structuredClone(document))).toEqual({
      added: [],
      removed: [],
      changed: [],
      same: 2,
    })
  })
  test('added and removed runs are told apart from changed ones', () => {
    const later = { ...document, runs: [document.runs[1]!, run('r3', 'AE-3')] }
    const found = compareDocuments(document, later)
    expect(found.added.map(r => r.id)).toEqual(['r3'])
    expect(found.removed.map(r => r.id)).toEqual(['r1'])
    expect(found.same).toBe(1)
  })
  test('a moved vertex shows in the figures it moves, with both values, and in no others', () => {
    const later = movePoint(document, 'r1', 'v1', [180, 0, 0])
    const found = compareDocuments(document, later).changed
    expect(found.map(c => c.runId)).toEqual(['r1'])
    expect(found[0]!.changes.map(c => c.what)).toEqual([
      'cut length',
      'straight 1',
      'bend 1 angle',
      'straight 2',
    ])
    expect(found[0]!.changes[2]).toMatchObject({ before: 90, unit: 'deg' })
  })
  test('a turn is another the short way round: 180 and −180 are one, from 175 to −175 is 10', () => {
    const turn = (before: number, after: number) =>
      differenceOf({ what: 'bend 2 rotation', before, after, unit: 'deg' })
    expect(turn(175, -175)).toBe(10)
    expect(turn(-175, 175)).toBe(-10)
    expect(turn(180, -180)).toBe(0)
    expect(turn(0, 180)).toBe(180)
    expect(differenceOf({ what: 'largest angle', before: 0, after: 190, unit: 'deg' })).toBe(190)
    expect(differenceOf({ what: 'bend 2 rotation', before: null, after: 5, unit: 'deg' })).toBeNull()
    // A Z whose far leg is a hair off its plane on either side: 180 less and more than nothing.
    const z = (off: number): SkidDocument => ({
      ...document,
      runs: [
        {
          ...document.runs[0]!,
          vertices: [
            { id: 'v1', at: [200, 0, 0] },
            { id: 'v2', at: [200, 200, 0] },
          ],
          endB: { kind: 'free', at: [400, 200, off] },
        },
      ],
    })
    const what = compareDocuments(z(1e-7), z(-1e-7)).changed.flatMap(c => c.changes.map(x => x.what))
    expect(what).not.toContain('bend 2 rotation')
    const seen = compareDocuments(z(3), z(-3)).changed[0]!.changes.find(c => c.what === 'bend 2 rotation')!
    expect(Math.abs(differenceOf(seen)!)).toBeLessThan(2)
    expect(Math.abs((seen.after as number) - (seen.before as number))).toBeGreaterThan(350)
  })
  test('a rename is a change of tag, not another run', () => {
    const later = { ...document, runs: [{ ...document.runs[0]!, tag: 'AE-9' }, document.runs[1]!] }
    expect(compareDocuments(document, later).changed).toEqual([
      { runId: 'r1', tag: 'AE-9', changes: [{ what: 'tag', before: 'AE-1', after: 'AE-9', unit: '' }] },
    ])
  })
  test('a route that can no longer be solved says so', () => {
    const later = movePoint(document, 'r1', 'v1', [0, 0, 0])
    const [changed] = compareDocuments(document, later).changed
    const route = changed!.changes[0]!
    expect(route).toMatchObject({ what: 'route', before: 'can be solved' })
    expect(route.after).toMatch(/points 1 and 2 0 mm apart.*at least 0\.000001 mm/)
    expect(changeValue(route.before, route, 'in')).toBe('can be solved')
    expect(changeValue(route.after, route, 'in')).toMatch(
      /points 1 and 2 0 in apart.*at least 3\.93701e-8 in/,
    )
    expect(JSON.parse(jsonText(route))).toEqual({ ...route, sentences: undefined })
  })
})
