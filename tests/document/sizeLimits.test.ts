import { describe, expect, test } from 'vitest'
import { editRun, movePoint } from '../../src/document/edits.ts'
import { readLength } from '../../src/document/figureCell.ts'
import { parseLength } from '../../src/document/quantity.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { readPoints } from '../../src/document/readTable.ts'
import { tooLarge } from '../../src/document/sizeLimits.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { sampleDocument } from './sampleDocument.ts'

const sample = sampleDocument()
const run = sample.runs[0]!
const vertex = run.vertices[0]!.id

describe('a skid has a largest size', () => {
  test.each<[string, SkidDocument, RegExp]>([
    [
      'a point nine zeros too far out',
      movePoint(sample, run.id, vertex, [1_000_000_000, 0, 0]),
      /found 1000000000 mm; nothing on a skid is longer, or farther from the origin, than 1 km/,
    ],
    [
      'a point just past it, to the other side',
      movePoint(sample, run.id, vertex, [0, -1_000_000.5, 0]),
      /found -1000000\.5 mm; nothing/,
    ],
    ['a point at no place', movePoint(sample, run.id, vertex, [0, Number.NaN, 0]), /too large to hold/],
    [
      'an OD of 1e300',
      editRun(sample, run.id, r => ({ ...r, tube: { ...r.tube, od: 1e300 } })),
      /found 1\.00e\+300 mm; a tube, its wall and its insulation are at most 1 m \(1000 mm\)/,
    ],
    [
      'insulation of 2 m',
      editRun(sample, run.id, r => ({ ...r, insulation: 2000 })),
      /found 2000 mm; a tube, its wall/,
    ],
    [
      'a box of 1e300',
      {
        ...sample,
        solids: [
          ...sample.solids,
          {
            id: 'huge',
            name: 'Huge',
            kind: 'equipment',
            fitting: null,
            shape: 'box',
            at: [0, 0, 0],
            size: [1, 1e300, 1],
            turn: [0, 0, 0],
          },
        ],
      },
      /^Huge: found 1\.00e\+300 mm/,
    ],
    [
      'a required gap of 10 km',
      { ...sample, clearances: { ...sample.clearances, tube: 1e7 } },
      /^The skid: found 10000000 mm/,
    ],
  ])('%s is refused with its part, what was found and what is wanted', (_, after, reason) => {
    expect(tooLarge(sample, after)).toMatch(reason)
    const read = readDocument(JSON.stringify(after))
    expect(read.ok).toBe(false)
  })

  test('angles, directions and counts are no lengths, and what was there before is not looked at again', () => {
    const turned = { ...sample, fittings: sample.fittings.map(f => ({ ...f, axis: [0, 0, 5e6] as const })) }
    expect(tooLarge(sample, turned)).toBeNull()
    expect(
      tooLarge(
        sample,
        editRun(sample, run.id, r => ({ ...r, quantity: 5_000_000 })),
      ),
    ).toBeNull()
    const odd = movePoint(sample, run.id, vertex, [1e9, 0, 0])
    expect(tooLarge(odd, { ...odd, name: 'Renamed' })).toBeNull()
  })

  test('the largest size itself is good, in a file and in a field', () => {
    const far = movePoint(sample, run.id, vertex, [1_000_000, -1_000_000, 0])
    expect(tooLarge(sample, far)).toBeNull()
    expect(readDocument(JSON.stringify(far)).ok).toBe(true)
    expect(parseLength('1000m', 'mm')).toEqual({ ok: true, mm: 1_000_000 })
  })

  test('a typed figure past it is refused in words, in a table by row and column', () => {
    const reason = 'the length is too large: wanted at most 1 km (1 000 000 mm)'
    for (const text of ['1000000000', '1'.repeat(190), '-40000 in', '2*600m'])
      expect(parseLength(text, 'mm')).toEqual({ ok: false, reason })
    expect(readLength('1e9', 'mm', 'point')).toEqual({ ok: false, reason })
    const read = readPoints('x,y,z\n0,0,0\n0,1000000000,0')
    expect(read.ok ? [] : read.errors.map(e => e.message)).toEqual([
      expect.stringMatching(/row 3, column 2: found "1000000000"; .*at most 1 km/),
    ])
  })

  test('a file says the place of a figure that is too large', () => {
    const read = readDocument(JSON.stringify(movePoint(sample, run.id, vertex, [1_000_000_000, 0, 0])))
    expect(read.ok ? [] : read.errors.map(e => e.message)).toEqual([
      'runs[0].vertices[0].at[0]: found 1000000000; wanted at most 1 km (1 000 000 mm) from 0',
    ])
  })
})
