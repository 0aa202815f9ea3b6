import { describe, expect, test } from 'vitest'
import { compareFields } from '../../src/checks/compareFields.ts'
import { readDocument, readParsed } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { documentOf, runOf, sampleDocument } from '../document/sampleDocument.ts'
import { seeded } from '../random.ts'
import { dogleg } from './inMemory.ts'

/** A document with something in every field of the format, two of whatever is listed. */
function everything(): SkidDocument {
  const sample = sampleDocument()
  const [bender] = sample.benders
  const [tooling] = bender!.tooling
  const [springback] = bender!.springback
  const full = {
    ...bender!,
    tubeOutFirst: true,
    tooling: [
      { ...tooling!, stretchAt90: 1 },
      { ...tooling!, id: 'second', od: 16 },
    ],
    springback: [
      { ...springback!, range: [30, 90] as const },
      { ...springback!, material: 'other' },
    ],
    benchEdge: { at: [110, 0] as const, outward: [1, 0] as const },
  }
  const acceptance = {
    finding: 'noBend:r1:v1',
    category: 'other',
    reason: 'why',
    by: 'who',
    on: '2026-01-01',
    measured: 4,
    limit: 8,
  } as const
  return {
    ...sample,
    note: 'a note',
    supportSpan: 900,
    benders: [full, { ...full, id: 'spare', name: 'Spare' }],
    acceptances: [acceptance, { ...acceptance, finding: 'noBend:r2:v1' }],
    viewpoints: ['one', 'two'].map(id => ({
      id,
      name: `View ${id}`,
      note: 'look here',
      by: 'who',
      on: '2026-01-01',
      target: [1, 2, 3] as const,
      yaw: 10,
      pitch: 20,
      span: 500,
      projection: 'perspective' as const,
      section: { at: [0, 0, 0] as const, normal: [1, 0, 0] as const },
      hidden: ['r1', 'r2'],
    })),
  }
}

type Path = readonly (string | number)[]
const at = (value: unknown, path: Path): unknown =>
  path.reduce<unknown>((v, key) => (v as Record<string, unknown>)[key], value)
function put(value: unknown, [key, ...rest]: Path, to: (old: unknown) => unknown): unknown {
  if (key === undefined) return to(value)
  if (Array.isArray(value)) return value.map((v, i) => (i === key ? put(v, rest, to) : v))
  const record = value as Record<string, unknown>
  return { ...record, [key]: put(record[key], rest, to) }
}
function leaves(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path]
  return Object.entries(value).flatMap(([key, v]) =>
    leaves(v, [...path, Array.isArray(value) ? Number(key) : key]),
  )
}

const DOCUMENT = everything()
const TEXT = writeDocument(DOCUMENT)
const WORDS = [
  ...['left', 'right', 'rotaryDraw', 'compression', 'settled', 'die', 'perspective', 'orthographic'],
  ...['equipment', 'structure', 'floor', 'keepOut', 'y', 'z', 'step', 'stl', 'until changed', 'agreed'],
  ...['2026-05-05', 'bench-left', 'spare', 'a', 'b', 'r1', 'r2', 'one', 'f'.repeat(64)],
]
/** Another id of what is called so, wherever it is named. */
const renamed = (id: string): SkidDocument =>
  JSON.parse(JSON.stringify(DOCUMENT).replaceAll(JSON.stringify(id), JSON.stringify(`${id}-other`)))

/** Other values of the same field that can be read, small steps first. */
function others(path: Path): SkidDocument[] {
  if (path.at(-1) === 'id') return [renamed(String(at(DOCUMENT, path)))]
  const old = at(DOCUMENT, path)
  const values: unknown[] =
    typeof old === 'number'
      ? [old + 1e-9, old * (1 + 1e-15), old + 0.5, old + 1, old - 1]
      : typeof old === 'boolean'
        ? [!old]
        : [
            `${old}x`,
            `${old} `,
            ...WORDS,
            'none',
            null,
            5,
            { at: [0, 0, 0], outward: [1, 0], normal: [1, 0, 0] },
          ]
  return values.flatMap(value => {
    if (value === old) return []
    const read = readParsed(JSON.parse(JSON.stringify(put(DOCUMENT, path, () => value))))
    return read.ok && writeDocument(read.document) !== TEXT ? [read.document] : []
  })
}

const compare = (now: SkidDocument, before = TEXT) =>
  dogleg(['compare', 'now.json', 'was.json'], { 'now.json': writeDocument(now), 'was.json': before })

describe('whatever is another in a document, compare says so and exits 1', () => {
  test('the document that it is tried on is read, and the same as itself', async () => {
    expect(readDocument(TEXT).ok).toBe(true)
    const { code, out } = await compare(DOCUMENT)
    expect([code, out]).toEqual([0, expect.stringContaining('0 changed')])
  })

  const paths = leaves(DOCUMENT).filter(([first]) => first !== 'format' && first !== 'version')
  test.each(paths.map(path => [path.join('.'), path] as const))('%s', async (name, path) => {
    const found = others(path)
    // What a solid's shape is cannot be another without its other fields.
    if (name.endsWith('.shape') || /end[AB]\.kind$/.test(name)) return
    expect(found.length, 'no other value can be read').toBeGreaterThan(0)
    for (const now of [found[0]!, found.at(-1)!]) {
      const { code, out } = await compare(now)
      expect(code, out).toBe(1)
      expect(out, JSON.stringify(at(now, path))).toMatch(/^ {2}[~+-] |^ {6}/m)
    }
  })

  const seed = 20260417
  test(`things added, left out or in another order are told (seed ${seed})`, async () => {
    const random = seeded(seed)
    const lists = Object.entries(DOCUMENT).filter(([, v]) => Array.isArray(v) && v.length > 0)
    for (const [name, list] of lists as [string, unknown[]][])
      for (const changed of [list.toReversed(), list.toSpliced(random.whole(0, list.length - 1), 1), []]) {
        const now = { ...DOCUMENT, [name]: changed } as SkidDocument
        if (!readDocument(writeDocument(now)).ok || writeDocument(now) === TEXT) continue
        const { code, out } = await compare(now)
        expect([name, code]).toEqual([name, 1])
        expect(out).toContain(name === 'runs' ? 'run' : name.replace(/s$/, ''))
      }
  })

  test('a turned id, an invented flag and a field of a later format are named with both values', async () => {
    const [run] = DOCUMENT.runs
    const other = { ...run!, tube: { ...run!.tube, catalogueId: 'mine' }, bender: 'spare' }
    const { out } = await compare({ ...DOCUMENT, invented: false, runs: [other, ...DOCUMENT.runs.slice(1)] })
    expect(out).toContain('tube catalogue id: mm-12-1.5 -> mine')
    expect(out).toContain('-> Spare')
    expect(out).toContain('invented: yes -> no')
    expect(compareFields({ benders: [{ id: 'b', later: 1 }] }, { benders: [{ id: 'b', later: 2 }] })).toEqual(
      [{ path: ['benders', 'b', 'later'], before: 1, after: 2 }],
    )
  })
})

describe('a limit that moves is a change of what is found', () => {
  // Two parallel tubes of 12 OD, 16 mm from centre to centre: 4 mm between outsides.
  const lane = (id: string, y: number, insulation = 0) =>
    runOf(id, [], {
      ...{ endA: { kind: 'free', at: [0, y, 0] }, endB: { kind: 'free', at: [500, y, 0] } },
      ...{ bender: null, insulation },
    })
  const asked = (tube: number, insulation = 0) => {
    const document = documentOf([lane('r1', 0, insulation), lane('r2', 16)])
    return { ...document, clearances: { ...document.clearances, tube } }
  }

  test('asking for more makes the same gap worse, for less better, both with their limits', async () => {
    const worse = await compare(asked(10), writeDocument(asked(8)))
    expect([worse.code, worse.out]).toEqual([1, expect.stringContaining('1 got worse')])
    expect(worse.out).toContain('(4 mm of 8 mm before, 4 mm of 10 mm now)')
    const better = await compare(asked(8), writeDocument(asked(10)))
    expect(better.out).toContain('1 got better')
    const gone = await compare(asked(3), writeDocument(asked(8)))
    expect(gone.out).toContain('1 went away')
    const appeared = await compare(asked(8), writeDocument(asked(3)))
    expect(appeared.out).toContain('1 appeared')
  })

  test('insulation taken away is a change of its gap', async () => {
    const { code, out } = await compare(asked(8), writeDocument(asked(8, 3)))
    expect(code).toBe(1)
    expect(out).toContain('insulation: 3 mm -> 0 mm')
    expect(out).toMatch(/1 got better/)
  })
})
