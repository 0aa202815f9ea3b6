import { describe, expect, test } from 'vitest'
import { readLaidOut } from '../../src/document/readLaidOut.ts'
import { likelyLayout, OWN_LAYOUT, type TableLayout } from '../../src/document/tableLayout.ts'

const POINTS: TableLayout = {
  ...OWN_LAYOUT,
  kind: 'points',
  delimiter: ';',
  header: false,
  roles: ['x', 'y', 'z'],
}
const ROWS: TableLayout = { ...POINTS, kind: 'rows', roles: ['straight', 'rotation', 'angle'] }
const pointsOf = (text: string, layout: Partial<TableLayout> = {}) =>
  readLaidOut(text, { ...POINTS, ...layout }).runs.map(r => (r.kind === 'points' ? r.points : null))
const rowsOf = (text: string, layout: Partial<TableLayout> = {}) =>
  readLaidOut(text, { ...ROWS, ...layout }).runs.map(r => (r.kind === 'rows' ? r.rows : null))
const messages = (text: string, layout: Partial<TableLayout> = {}) =>
  readLaidOut(text, { ...POINTS, ...layout }).errors.map(e => e.message)

describe('figures', () => {
  test('with a comma are never guessed: without a word on it they are an error', () => {
    expect(messages('1,5;0;0')).toEqual([expect.stringMatching(/^row 1, column 1: found "1,5".*ambiguous/)])
  })

  test.each([
    ['comma', '1,5;0;1234,25', [1.5, 0, 1234.25]],
    ['pointGrouped', '1,500;0;1,234.25', [1500, 0, 1234.25]],
    ['commaGrouped', '1.500;0;1.234,25', [1500, 0, 1234.25]],
    ['commaGrouped', '1500;0;1234,25', [1500, 0, 1234.25]],
    ['comma', '-,5;6 3/16;2*1,5', [-0.5, 6.1875, 3]],
  ] as const)('written as %s: %s', (figures, text, wanted) => {
    expect(pointsOf(text, { figures })).toEqual([[wanted]])
  })

  test.each([
    ['comma', '1.5', /"1.5" is not written as 1234,5/],
    ['comma', '1,5,2', /"1,5,2" is not written as 1234,5/],
    ['pointGrouped', '1,5', /"1,5" is not written as 1,234.5/],
    ['pointGrouped', '1.5,000', /is not written as/],
    ['commaGrouped', '1.5', /"1.5" is not written as 1.234,5/],
    ['commaGrouped', '12345.678', /is not written as/],
  ] as const)('not written as %s are refused: %s', (figures, text, reason) => {
    expect(messages(`${text};0;0`, { figures })[0]).toMatch(reason)
  })
})

describe('units', () => {
  test('hold for bare figures of the file, one column may differ, and a cell may name its own', () => {
    expect(pointsOf('1;6 3/16;2mm', { unit: 'm', columnUnits: { 1: 'in' } })).toEqual([[[1000, 157.1625, 2]]])
    expect(pointsOf('1;2;3', { unit: 'ft' })).toEqual([[[304.8, 609.6, 914.4]]])
    expect(pointsOf('0.1;2;3', { unit: 'cm' })).toEqual([[[1, 20, 30]]])
  })
})

describe('columns', () => {
  test('may stand in any order with others between them', () => {
    expect(pointsOf('P1;3;note;1;2', { roles: ['unused', 'z', 'unused', 'x', 'y'] })).toEqual([[[1, 2, 3]]])
  })

  test('that are missing or there twice are named', () => {
    expect(messages('1;2;3', { roles: ['x', 'x', 'z'] })).toEqual([
      expect.stringMatching(/no column for y/),
      expect.stringMatching(/column 2: found "x" again/),
    ])
  })

  test('cut at blanks need no marks', () => {
    expect(pointsOf(' 1   2\t3\n\n 4 5 6 ', { delimiter: ' ' })).toEqual([
      [
        [1, 2, 3],
        [4, 5, 6],
      ],
    ])
  })
})

describe('rows', () => {
  test('that are wrong may be left out, and only by saying so', () => {
    const text = '1;2;3\nsum;;\n4;5;6'
    expect(messages(text)[0]).toMatch(/^row 2, column 1/)
    expect(pointsOf(text)).toEqual([])
    expect(pointsOf(text, { struck: new Set([2]) })).toEqual([
      [
        [1, 2, 3],
        [4, 5, 6],
      ],
    ])
    expect(messages(text, { struck: new Set([1, 2, 3]) })[0]).toMatch(/every row left out/)
  })

  test('keep the figures of their good cells beside the wrong one', () => {
    const read = readLaidOut('1;abc;3', POINTS)
    expect(read.lines[0]?.figures).toEqual([1, Number.NaN, 3])
    expect(read.errors[0]).toMatchObject({ row: 1, column: 2, found: '"abc"', wanted: 'a length' })
  })
})

describe('tags', () => {
  const layout = { roles: ['tag', 'x', 'y', 'z'] as const }
  test('part a table into runs; a blank one goes on with the run above', () => {
    const read = readLaidOut('A;0;0;0\n;1;0;0\nB;5;0;0\nB;6;0;0', { ...POINTS, ...layout })
    expect(read.runs.map(r => [r.tag, r.row, r.kind === 'points' && r.points.length])).toEqual([
      ['A', 1, 2],
      ['B', 3, 2],
    ])
  })
  test('that come again after another run, or are missing at the start, are errors', () => {
    expect(messages('A;0;0;0\nB;1;0;0\nA;2;0;0', layout)).toEqual([
      expect.stringMatching(/^row 3, column 1: found "A" again, after another run/),
    ])
    expect(messages(';0;0;0\nB;1;0;0', layout)[0]).toMatch(/wanted the tag of the first run/)
  })
})

describe('bend rows', () => {
  const wanted = {
    straights: [80, 60, 40],
    bends: [
      { angle: 90, rotation: null },
      { angle: 45, rotation: -90 },
    ],
  }
  test.each<[string, string, Partial<TableLayout>]>([
    ['our own way', '80;;90\n60;-90;45\n40;;', {}],
    ['zeros on the last row', '80;0;90\n60;-90;45\n40;0;0', {}],
    ['counter-clockwise positive', '80;;90\n60;90;45\n40;;', { positive: 'counterClockwise' }],
    ['the rotation with the bend before it', '80;-90;90\n60;;45\n40;;', { rotationStands: 'withBendBefore' }],
  ])('are read %s', (_, text, layout) => {
    expect(rowsOf(text, layout)).toEqual([wanted])
  })

  test('keep a half turn a half turn, whichever way is positive', () => {
    expect(rowsOf('8;;90\n6;180;45\n4;;', { positive: 'counterClockwise' })[0]?.bends[1]?.rotation).toBe(180)
    expect(rowsOf('8;;90\n6;0;45\n4;;', { positive: 'counterClockwise' })[0]?.bends[1]?.rotation).toBe(0)
  })

  test.each<[string, string, Partial<TableLayout>, RegExp]>([
    [
      'before the first bend',
      '80;10;90\n60;1;45\n40;;',
      {},
      /^row 1, column 2: found 10; wanted nothing or 0/,
    ],
    [
      'after the last bend',
      '80;10;90\n60;20;45\n40;;',
      { rotationStands: 'withBendBefore' },
      /^row 2, column 2: found 20; wanted nothing or 0: there is no bend after/,
    ],
    ['that is missing', '80;;90\n60;;45\n40;;', {}, /^row 2, column 2: found nothing/],
    [
      'that is missing after a bend',
      '80;;90\n60;;45\n40;;',
      { rotationStands: 'withBendBefore' },
      /^row 1, column 2: found nothing/,
    ],
  ])('refuse a rotation %s', (_, text, layout, reason) => {
    expect(readLaidOut(text, { ...ROWS, ...layout }).errors.map(e => e.message)).toEqual([
      expect.stringMatching(reason),
    ])
  })
})

describe('the likely layout', () => {
  test.each<[string, string, Partial<TableLayout>]>([
    [
      'our own points',
      'x,y,z\n1,2,3\n',
      { kind: 'points', header: true, delimiter: ',', roles: ['x', 'y', 'z'] },
    ],
    [
      'our own rows',
      'straight,rotation,angle\n1,,\n',
      { kind: 'rows', header: true, roles: ['straight', 'rotation', 'angle'] },
    ],
    [
      'units in the header',
      'Line\tZ (in)\tX (in)\tY (in)\nA\t1\t2\t3',
      { delimiter: '\t', roles: ['tag', 'z', 'x', 'y'], unit: 'in', columnUnits: {} },
    ],
    ['units that differ', 'x mm;y in;z\n1;2;3', { unit: 'mm', columnUnits: { 0: 'mm', 1: 'in' } }],
    ['no header', '1;2;3;4', { header: false, roles: ['x', 'y', 'z', 'unused'], delimiter: ';' }],
    ['a header of other words', 'Ost;Nord;Hoch\n1;2;3', { header: true, roles: ['x', 'y', 'z'] }],
    ['blanks', '1 2 3\n4 5 6', { delimiter: ' ', roles: ['x', 'y', 'z'] }],
    ['decimal commas', '1,5;2,5;3,5', { figures: 'point', header: false }],
    [
      'a bending programme',
      'Length;Turn;Bend\n1;;90\n2;;',
      { kind: 'rows', roles: ['straight', 'rotation', 'angle'] },
    ],
  ])('of %s', (_, text, wanted) => {
    expect(likelyLayout(text)).toMatchObject(wanted)
  })
})
