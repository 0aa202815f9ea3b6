import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { CATEGORIES, EARLIER_CATEGORIES } from '../../src/document/acceptanceCategories.ts'
import { KNOWN_BENDERS } from '../../src/document/knownBenders.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { FORMAT_STEPS, NEWEST_VERSION, readDocument, readParsed } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { documentOf, runOf, sampleDocument } from './sampleDocument.ts'

// biome-ignore lint/suspicious/noExplicitAny: these tests break types on purpose
type Breakable = any

/** A copy of the sample with one thing changed, as JSON text. */
function changed(change: (d: Breakable) => void): string {
  const d = structuredClone(sampleDocument())
  change(d)
  return JSON.stringify(d)
}
const errorsOf = (text: string) => {
  const r = readDocument(text)
  return r.ok ? [] : r.errors
}

describe('a document written and read', () => {
  test('comes back the same', () => {
    const d = sampleDocument()
    expect(readDocument(writeDocument(d))).toEqual({ ok: true, document: d })
    expect(readDocument(writeDocument(emptyDocument('x')))).toEqual({
      ok: true,
      document: emptyDocument('x'),
    })
  })

  test('is the same bytes again, in whatever order its fields were made', () => {
    const backwards = (v: unknown): unknown =>
      Array.isArray(v)
        ? v.map(backwards)
        : typeof v === 'object' && v !== null
          ? Object.fromEntries(
              Object.entries(v)
                .reverse()
                .map(([k, e]) => [k, backwards(e)]),
            )
          : v
    const d = sampleDocument()
    const text = writeDocument(d)
    expect(writeDocument(backwards(d) as SkidDocument)).toBe(text)
    expect(writeDocument(JSON.parse(text))).toBe(text)
  })

  test('keeps every digit of awkward numbers, and text as text', () => {
    const d = {
      ...documentOf([runOf('r', [[0.1 + 0.2, 1e-300, -999999.9999999999]])]),
      name: '=1+1 <b>"\u2028é</b>',
    }
    expect(readDocument(writeDocument(d))).toEqual({ ok: true, document: d })
  })

  test('a number that JSON cannot hold is refused by its place, not written as null', () => {
    const d = documentOf([runOf('r', [[0, Number.NaN, 0]])])
    expect(() => writeDocument(d)).toThrow('runs[0].vertices[0].at[1]: found NaN, wanted a finite number')
  })

  test('a byte order mark before it does no harm', () => {
    expect(readDocument(`\uFEFF${writeDocument(sampleDocument())}`).ok).toBe(true)
  })
})

describe('what is wrong is named by place, found and wanted', () => {
  test.each<[string, (d: Breakable) => void, string, string, string]>([
    [
      'a number as text',
      d => {
        d.runs[0].tube.od = '12'
      },
      'runs[0].tube.od',
      '"12"',
      'a number',
    ],
    [
      'a list for a point',
      d => {
        d.runs[0].vertices[1].at = [1, 2]
      },
      'runs[0].vertices[1].at[2]',
      'nothing',
      'a number',
    ],
    [
      'four coordinates',
      d => {
        d.fittings[0].position.push(4)
      },
      'fittings[0].position[3]',
      '4',
      'a list of three numbers',
    ],
    [
      'a missing field',
      d => {
        d.runs[0].clr = undefined
      },
      'runs[0].clr',
      'nothing',
      'the field "clr"',
    ],
    [
      'a field too many',
      d => {
        d.runs[0].colour = 'red'
      },
      'runs[0].colour',
      'the field "colour"',
      'only the fields of the format',
    ],
    [
      'no radius',
      d => {
        d.runs[0].clr = 0
      },
      'runs[0].clr',
      '0',
      'a number above 0',
    ],
    [
      'a negative insertion',
      d => {
        d.fittings[1].insertionDepth = -1
      },
      'fittings[1].insertionDepth',
      '-1',
      'a number, 0 or more',
    ],
    [
      'an axis without direction',
      d => {
        d.fittings[0].axis = [0, 0, 0]
      },
      'fittings[0].axis',
      'the list 0, 0, 0',
      'a direction: not all three 0, and of a length that can be held',
    ],
    [
      'an unknown shape',
      d => {
        d.solids[0].shape = 'cone'
      },
      'solids[0].shape',
      '"cone"',
      'one of box, cylinder, sphere, plane',
    ],
    [
      'half a tube',
      d => {
        d.runs[0].quantity = 1.5
      },
      'runs[0].quantity',
      '1.5',
      'a whole number',
    ],
    [
      'a run id twice',
      d => {
        d.runs[1].id = 'r1'
      },
      'runs[1].id',
      '"r1" again',
      'an id that runs[0].id does not have',
    ],
    [
      'a tag twice',
      d => {
        d.runs[1].tag = 'TAG-r1'
      },
      'runs[1].tag',
      '"TAG-r1" again',
      'a tag that runs[0].tag does not have',
    ],
    [
      'a vertex id twice',
      d => {
        d.runs[0].vertices[1].id = 'v1'
      },
      'runs[0].vertices[1].id',
      '"v1" again',
      'an id that runs[0].vertices[0].id does not have',
    ],
    [
      'a vertex named as an end',
      d => {
        d.runs[0].vertices[1].id = 'A'
      },
      'runs[0].vertices[1].id',
      '"A"',
      'an id other than A and B, which name the ends',
    ],
    [
      'a fitting that is not there',
      d => {
        d.runs[0].endA.fitting = 'zz'
      },
      'runs[0].endA.fitting',
      '"zz"',
      'the id of a fitting of this document',
    ],
    [
      'a bender that is not there',
      d => {
        d.runs[0].bender = 'zz'
      },
      'runs[0].bender',
      '"zz"',
      'the id of a bender of this document, or null',
    ],
    [
      'a body of no fitting',
      d => {
        d.solids[0].fitting = 'zz'
      },
      'solids[0].fitting',
      '"zz"',
      'the id of a fitting of this document, or null',
    ],
    [
      'an id with a colon',
      d => {
        d.solids[0].id = 'a:b'
      },
      'solids[0].id',
      '"a:b"',
      'an id without ":", which joins ids in a finding',
    ],
    [
      'a date that is none',
      d => {
        d.acceptances[0].on = 'today'
      },
      'acceptances[0].on',
      '"today"',
      'a date as 2026-03-31',
    ],
    [
      'a model known by no hash',
      d => {
        d.models[0].hash = 'ABC'
      },
      'models[0].hash',
      '"ABC"',
      'a SHA-256 hash: 64 lower-case hexadecimal digits',
    ],
    [
      'a part of a model named twice',
      d => {
        d.models[0].parts[1].key = d.models[0].parts[0].key
      },
      'models[0].parts[1].key',
      '"frame/leg#2" again',
      'a key that models[0].parts[0].key does not have',
    ],
    [
      'a part that is the body of no fitting here',
      d => {
        d.models[0].parts[1].fitting = 'zz'
      },
      'models[0].parts[1].fitting',
      '"zz"',
      'the id of a fitting of this document, or null',
    ],
    [
      'a support of no run',
      d => {
        d.supports[0].run = 'zz'
      },
      'supports[0].run',
      '"zz"',
      'the id of a run of this document',
    ],
    [
      'a view from beyond the pole',
      d => {
        d.viewpoints[0].pitch = 91
      },
      'viewpoints[0].pitch',
      '91',
      'an angle of −90 to 90°',
    ],
    [
      'an end of no kind',
      d => {
        d.runs[0].endB = { kind: 'wall' }
      },
      'runs[0].endB.kind',
      '"wall"',
      'one of port, free',
    ],
    [
      'runs that are no list',
      d => {
        d.runs = {}
      },
      'runs',
      'an object',
      'a list',
    ],
  ])('%s', (_, change, path, found, wanted) => {
    expect(errorsOf(changed(change))).toEqual([
      { path, found, wanted, message: `${path}: found ${found}; wanted ${wanted}` },
    ])
  })

  test('a number too large for a number is not finite', () => {
    const text = writeDocument(sampleDocument()).replace('"clr": 36', '"clr": 1e999')
    expect(errorsOf(text)[0]).toMatchObject({
      path: 'benders[0].tooling[3].clr',
      found: 'Infinity',
      wanted: 'a finite number',
    })
  })

  test('a field named like one that every object has is a field too many, not a prototype', () => {
    for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const text = writeDocument(sampleDocument()).replace(
        '"service":',
        `"${key}": {"polluted": true}, "service":`,
      )
      expect(errorsOf(text)[0]).toMatchObject({
        path: `runs[0].${key}`,
        wanted: 'only the fields of the format',
      })
    }
    expect('polluted' in {}).toBe(false)
    expect(errorsOf('{"__proto__": {"format": "dogleg-skid", "version": 1}}')[0]).toMatchObject({
      path: 'format',
      found: 'nothing',
    })
  })

  test('more than fifty errors are listed to fifty and the rest is counted', () => {
    const errors = errorsOf(
      changed(d => {
        d.fittings = Array.from({ length: 80 }, () => 7)
      }),
    )
    expect(errors).toHaveLength(51)
    expect(errors[50]!.message).toContain('30 more')
  })
})

describe('a file that is no skid document', () => {
  test.each<[string, string, RegExp]>([
    ['an empty file', '', /an empty file/],
    ['a broken file', '{"format": "dogleg-skid",\n "version": 1,, }', /no JSON/],
    ['a list', '[]', /a list of 0; wanted an object/],
    ['a null', 'null', /found null/],
    ['another format', '{"format": "other"}', /"other"; wanted "dogleg-skid"/],
    [
      'a newer version',
      '{"format": "dogleg-skid", "version": 3}',
      /found 3; wanted 2 or older: the file was written by a newer/,
    ],
    ['version 0', '{"format": "dogleg-skid", "version": 0}', /whole number from 1/],
    ['a version in words', '{"format": "dogleg-skid", "version": "one"}', /version: found "one"/],
  ])('%s is refused by name', (_, text, reason) => {
    const errors = errorsOf(text)
    expect(errors).toHaveLength(1)
    expect(errors[0]!.message).toMatch(reason)
  })

  test('10 MB of junk gives a short error', () => {
    for (const junk of [
      'x'.repeat(1e7),
      '['.repeat(1e7),
      `{"format":"${'y'.repeat(1e7)}"}`,
      '9'.repeat(1e7),
    ]) {
      const errors = errorsOf(junk)
      expect(errors).toHaveLength(1)
      expect(errors[0]!.message.length).toBeLessThan(300)
    }
  })

  test('a list of millions is refused by its length before its entries are looked at', () => {
    const text = `{"format":"dogleg-skid","version":1,"runs":[${'1,'.repeat(2e6)}1]}`
    expect(errorsOf(text)).toContainEqual(
      expect.objectContaining({ path: 'runs', found: 'a list of 2000001', wanted: 'at most 20,000 entries' }),
    )
  })

  test('text over 50 MB is refused by name', () => {
    expect(errorsOf(' '.repeat(50_000_001))[0]!.message).toContain('wanted at most 50000000 (50 MB)')
  })
})

describe('format steps', () => {
  test('there is one for every version, in order, the last is the one written', () => {
    expect(FORMAT_STEPS.map(s => s.version)).toEqual(Array.from({ length: NEWEST_VERSION }, (_, i) => i + 1))
    expect(emptyDocument('x').version).toBe(NEWEST_VERSION)
  })

  test.each(FORMAT_STEPS.map(s => [s.version, s.name] as const))(
    'a file of version %d (%s) still reads',
    version => {
      const folder = new URL('../old-files/', import.meta.url)
      const files = readdirSync(folder).filter(f => f.startsWith(`version-${version}.`))
      expect(files.length).toBeGreaterThan(0)
      for (const file of files) expect(errorsOf(readFileSync(new URL(file, folder), 'utf8'))).toEqual([])
    },
  )
})

describe('the category of an acceptance', () => {
  const [accepted] = sampleDocument().acceptances
  const readAs = (category: string) => {
    const document = { ...sampleDocument(), acceptances: [{ ...accepted!, category }] }
    const read = readParsed(JSON.parse(JSON.stringify(document)))
    return read.ok ? read.document.acceptances : read.errors.map(e => e.message)
  }

  test.each(Object.entries(EARLIER_CATEGORIES))(
    'the earlier word "%s" is read as "%s", and its reason, name, date and figures stay',
    (earlier, now) => expect(readAs(earlier)).toEqual([{ ...accepted, category: now }]),
  )
  test.each(CATEGORIES)('"%s" is one', category =>
    expect(readAs(category)).toEqual([{ ...accepted, category }]),
  )
  test('no word judges a risk, and another word is refused with those there are', () => {
    expect(CATEGORIES.filter(c => /risk|safe/.test(c))).toEqual([])
    expect(readAs('high risk')).toEqual([
      'acceptances[0].category: found "high risk"; wanted one of stays as built, until changed, agreed, other',
    ])
  })
})

test('the reference table of benders reads by the rules of a file', () => {
  expect(KNOWN_BENDERS.length).toBeGreaterThanOrEqual(3)
  for (const k of KNOWN_BENDERS) expect(k.source).toContain('invented')
})

test('a file saved as UTF-16 is refused by that name, none of its bytes quoted', () => {
  for (const order of ['utf16le', 'swapped']) {
    const bytes = Buffer.from('\ufeff{"format": "dogleg-skid"}', 'utf16le')
    if (order === 'swapped') bytes.swap16()
    const read = readDocument(bytes.toString('utf8'))
    expect(read.ok ? '' : read.errors[0]?.message).toBe(
      'the file: found text saved as UTF-16, which JSON is not; wanted a skid document as JSON, saved as UTF-8',
    )
  }
})

test('a quantity that no counting reaches is refused', () => {
  const text = writeDocument(sampleDocument()).replace(/"quantity": \d+/, '"quantity": 1e300')
  const read = readDocument(text)
  expect(read.ok ? '' : read.errors[0]?.message).toBe('runs[0].quantity: found 1e+300; wanted a whole number')
})

test('a run of 10,000 points reads', () => {
  const d = documentOf([
    runOf(
      'r',
      Array.from({ length: 10_000 }, (_, i) => [i * 100, (i % 2) * 100, 0] as const),
    ),
  ])
  expect(readDocument(writeDocument(d))).toEqual({ ok: true, document: d })
})
