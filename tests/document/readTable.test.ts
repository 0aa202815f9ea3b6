import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readPoints, readRows } from '../../src/document/readTable.ts'
import { writePoints, writeRows } from '../../src/document/writeTable.ts'

const POINTS = [
  [0, 0, 0],
  [100, 0, 0.1 + 0.2],
  [100, -1e-7, 987654.3210000001],
] as const
const ROWS = {
  straights: [80, 60.5, -3],
  bends: [
    { angle: 90, rotation: null },
    { angle: 45.25, rotation: -90 },
  ],
}
const messages = (r: ReturnType<typeof readPoints> | ReturnType<typeof readRows>) =>
  r.ok ? [] : r.errors.map(e => e.message)

describe('a table of points', () => {
  test.each([',', '\t'] as const)('written with %j comes back the same to the last digit', separator => {
    expect(readPoints(writePoints(POINTS, separator), { headerNeeded: true })).toEqual({
      ok: true,
      points: POINTS,
    })
  })

  test.each<[string, string]>([
    ['commas', 'x,y,z\n1,2,3\n4,5,6\n'],
    ['semicolons', 'x;y;z\n1;2;3\n4;5;6'],
    ['tabs, no header', '1\t2\t3\r\n4\t5\t6\r\n'],
    ['quotes', '"x","y","z"\n"1",2,"3"\n4,"5",6'],
    ['a byte order mark and blank lines', '\uFEFFx,y,z\r\n\r\n1,2,3\r\n,,\r\n4,5,6\r\n\r\n'],
    ['columns in another order', 'Z,X,Y\n3,1,2\n6,4,5'],
    ['a column more', 'name,x,y,z\nP1,1,2,3\nP2,4,5,6'],
    ['units in the cells', 'x,y,z\n0.1cm,2mm,3\n4,5,(5+1)'],
    ['a unicode minus twice', 'x,y,z\n1,2,3\n4,5,−−6'],
    ['old line ends', 'x,y,z\r1,2,3\r4,5,6'],
  ])('with %s is read', (_, text) => {
    expect(readPoints(text)).toEqual({
      ok: true,
      points: [
        [1, 2, 3],
        [4, 5, 6],
      ],
    })
  })

  test('in inches is exact', () => {
    expect(readPoints('x\ty\tz\n6 3/16\t1\t10mm', { unit: 'in' })).toEqual({
      ok: true,
      points: [[157.1625, 25.4, 10]],
    })
  })

  test('names every wrong cell by row and column', () => {
    const text = 'x;y;z\n1;2;3\n1,5;abc;\n=1+1;1e999;NaN'
    expect(messages(readPoints(text))).toEqual([
      expect.stringMatching(/^row 3, column 1: found "1,5"; wanted a length \("1,5" is ambiguous/),
      expect.stringMatching(/^row 3, column 2: found "abc"/),
      expect.stringMatching(/^row 3, column 3: found nothing; wanted a length/),
      expect.stringMatching(/^row 4, column 1: found "=1\+1"/),
      expect.stringMatching(/^row 4, column 2: found "1e999"/),
      expect.stringMatching(/^row 4, column 3: found "NaN"/),
    ])
  })

  test.each<[string, string, RegExp]>([
    ['nothing in it', '', /an empty table/],
    ['only a header', 'x,y,z', /no rows/],
    ['a missing column', 'x,y\n1,2', /wanted a column "z"/],
    ['a column twice', 'x,y,z,x\n1,2,3,4', /"x" again/],
    ['an open quote', 'x,y,z\n"1,2,3', /row 2, column 1: found a quote that is not closed/],
    ['four cells under three', 'x,y,z\n1,2,3,4', /row 2, column 4: found "4"; wanted 3 columns/],
  ])('with %s is refused', (_, text, reason) => {
    expect(messages(readPoints(text))[0]).toMatch(reason)
  })

  test('without its header is refused where one is needed', () => {
    expect(messages(readPoints('1,2,3', { headerNeeded: true }))[0]).toMatch(/wanted the header x,y,z/)
  })

  test('of 10 MB of junk gives at most fifty errors and where reading stopped', () => {
    for (const junk of ['x'.repeat(1e7), '"'.repeat(1e7), 'a,b,c\n'.repeat(1.6e6)])
      expect(messages(readPoints(junk)).length).toBeLessThanOrEqual(51)
  })
})

describe('a table of bend rows', () => {
  test('written and read comes back the same', () => {
    expect(writeRows(ROWS)).toBe('straight,rotation,angle\n80,,90\n60.5,-90,45.25\n-3,,\n')
    expect(readRows(writeRows(ROWS), { headerNeeded: true })).toEqual({ ok: true, rows: ROWS })
  })

  test('takes a first rotation of 0, and a last row of one cell', () => {
    const wanted = { straights: [80, 60], bends: [{ angle: 90, rotation: null }] }
    expect(readRows('straight,rotation,angle\n80,0,90\n60')).toEqual({ ok: true, rows: wanted })
  })

  test('of one straight is a tube without bends', () => {
    expect(readRows('straight,rotation,angle\n500,,')).toEqual({
      ok: true,
      rows: { straights: [500], bends: [] },
    })
  })

  test.each<[string, string, RegExp]>([
    ['an angle of 180', '80,,180\n60', /row 2, column 3: found 180; wanted an angle above 0 and below 180/],
    ['an angle on the last row', '80,,90\n60,0,45', /row 3, column 2: found 0; wanted nothing/],
    [
      'no rotation at the second bend',
      '80,,90\n60,,45\n9',
      /row 3, column 2: found nothing; wanted an angle/,
    ],
    ['a rotation at the first bend', '80,30,90\n60', /row 2, column 2: found 30; wanted nothing or 0/],
    ['no angle in the middle', '80,,\n60', /row 2, column 3: found nothing/],
    ['words', 'a,b,c\n60', /row 2, column 1: found "a"/],
  ])('with %s is refused by row and column', (_, text, reason) => {
    expect(messages(readRows(`straight,rotation,angle\n${text}`))[0]).toMatch(reason)
  })

  test('a number that is not finite is not written', () => {
    expect(() => writeRows({ straights: [Number.NaN], bends: [] })).toThrow('row 1, straight: found NaN')
  })
})

const SEED = 1848

test(`any points and any rows survive being written and read, seed ${SEED}`, () => {
  const figure = fc.double({ noNaN: true, noDefaultInfinity: true }).map(n => n + 0)
  // Of a skid: longer ones are refused.
  const length = fc.double({ min: -1e6, max: 1e6, noNaN: true }).map(n => n + 0)
  const point = fc.tuple(length, length, length)
  const bend = fc.record({ angle: fc.double({ min: 1e-9, max: 179.999999, noNaN: true }), rotation: figure })
  const separator = fc.constantFrom<',' | '\t'>(',', '\t')
  fc.assert(
    fc.property(fc.array(point, { minLength: 1, maxLength: 9 }), separator, (points, by) => {
      expect(readPoints(writePoints(points, by))).toEqual({ ok: true, points })
    }),
    { seed: SEED, numRuns: 500 },
  )
  fc.assert(
    fc.property(length, fc.array(fc.tuple(bend, length), { maxLength: 9 }), separator, (first, more, by) => {
      const rows = {
        straights: [first, ...more.map(m => m[1])],
        bends: more.map((m, i) => (i === 0 ? { ...m[0], rotation: null } : m[0])),
      }
      expect(readRows(writeRows(rows, by))).toEqual({ ok: true, rows })
    }),
    { seed: SEED, numRuns: 500 },
  )
})

test(`no text makes the table reader throw, seed ${SEED}`, () => {
  const bits = fc.constantFrom(
    'x',
    'y',
    'z',
    ',',
    ';',
    '\t',
    '\n',
    '\r',
    '"',
    '1',
    '-',
    '.5',
    '1,5',
    '=',
    ' ',
    'straight',
    '\uFEFF',
  )
  fc.assert(
    fc.property(fc.array(bits, { maxLength: 30 }), parts => {
      for (const r of [readPoints(parts.join('')), readRows(parts.join(''))])
        expect(r.ok || r.errors.length > 0).toBe(true)
    }),
    { seed: SEED, numRuns: 3000 },
  )
})
