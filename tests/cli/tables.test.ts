import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'

async function dogleg(args: string, text: string) {
  let out = ''
  let err = ''
  const code = await main(args.split(' '), {
    read: async () => text,
    write: async () => {},
    out: t => {
      out += t
    },
    err: t => {
      err += t
    },
  })
  return { code, out, err }
}
const TUBE = '--od 12 --wall 1.5 --clr 38'
const OWN = 'x,y,z\n0,0,0\n100.5,0,0\n200,100,0\n'
const lengths = (out: string) =>
  (JSON.parse(out) as { runs: { tag: string; developedLength: number }[] }).runs.map(r => [
    r.tag,
    r.developedLength,
  ])

describe('a table laid out otherwise', () => {
  test.each([
    ['columns in another order', '--columns z,-,x,y', '0,P1,0,0\n0,P2,100.5,0\n0,P3,200,100\n'],
    ['a header of other words', '--columns x,y,z', 'East,North,Up\n0,0,0\n100.5,0,0\n200,100,0\n'],
    ['decimal commas', '--decimal comma', 'x;y;z\n0;0;0\n100,5;0;0\n200;100;0\n'],
    ['blanks', '--delimiter space --columns x,y,z', '0 0 0\n100.5 0 0\n200 100 0\n'],
    ['centimetres', '--unit cm', 'x,y,z\n0,0,0\n10.05,0,0\n20,10,0\n'],
  ])('is the same route: %s', async (_, options, text) => {
    const own = await dogleg(`solve r.csv ${TUBE} --json`, OWN)
    const other = await dogleg(`solve r.csv ${TUBE} ${options} --json`, text)
    expect([other.err, lengths(other.out)]).toEqual(['', lengths(own.out)])
  })

  test('with a column of tags is one run of each', async () => {
    const { out, err } = await dogleg(
      `solve r.csv ${TUBE} --json`,
      'tag,x,y,z\nL-1,0,0,0\nL-1,100,0,0\nL-2,0,0,0\n,0,0,250\n',
    )
    expect([err, lengths(out)]).toEqual([
      '',
      [
        ['L-1', 100],
        ['L-2', 250],
      ],
    ])
  })

  test('names every wrong cell, and exits 2', async () => {
    const { code, err } = await dogleg(`solve r.csv ${TUBE}`, 'x;y;z\n0;0;0\n1,5;0;b\n')
    expect(code).toBe(2)
    expect(err).toMatch(/^dogleg: r.csv: row 3, column 1: found "1,5".*ambiguous/)
    expect(err).toMatch(/\ndogleg: r.csv: row 3, column 3: found "b"/)
  })

  test.each([
    ['--columns x,y,up', /--columns: found "up"; wanted each column as one of x, y, z, tag, or -/],
    ['--columns x,y', /no column for z/],
    ['--decimal dot', /--decimal: found "dot"; wanted one of point, comma/],
    ['--unit yard', /--unit: found "yard"; wanted one of mm, cm, m, in, ft/],
    ['--delimiter pipe', /--delimiter: found "pipe"/],
    ['--unit toString', /--unit: found "toString"/],
  ])('refuses %s', async (options, reason) => {
    const { code, err } = await dogleg(`solve r.csv ${TUBE} ${options}`, OWN)
    expect([code, err]).toEqual([2, expect.stringMatching(reason)])
  })

  test('is no matter of a skid document', async () => {
    const { code, err } = await dogleg('solve r.json --columns x,y,z', '{}')
    expect([code, err]).toEqual([2, expect.stringMatching(/--columns: r.json is a skid document/)])
  })
})

describe('bend rows laid out otherwise', () => {
  const OWN_ROWS = 'straight,rotation,angle\n80,,90\n60,-90,45\n40,,\n'
  test.each([
    ['the other way round positive', '--turns counter', 'straight,rotation,angle\n80,,90\n60,90,45\n40,,\n'],
    ['another order', '--columns straight,angle,rotation', 'L;B;R\n80;90;0\n60;45;-90\n40;0;0\n'],
  ])('are the same points: %s', async (_, options, text) => {
    const own = await dogleg('rows r.csv --clr 38', OWN_ROWS)
    const other = await dogleg(`rows r.csv --clr 38 ${options}`, text)
    expect([other.err, other.out]).toEqual(['', own.out])
  })

  test('as legs run from intersection to intersection', async () => {
    const { out } = await dogleg(
      'rows r.csv --clr 38 --lengths legs',
      'straight,rotation,angle\n100,,90\n70,,\n',
    )
    const points = out.trim().split('\n').slice(1)
    const figures = points.flatMap(p => p.split(',').map(Number))
    ;[0, 0, 0, 100, 0, 0, 100, 70, 0].forEach((wanted, i) => {
      expect(figures[i]).toBeCloseTo(wanted, 9)
    })
  })

  test('of two runs are refused: the points are those of one', async () => {
    const { code, err } = await dogleg('rows r.csv --clr 38', 'tag,straight,rotation,angle\nA,80,,\nB,60,,\n')
    expect([code, err]).toEqual([2, expect.stringMatching(/found 2 runs; wanted one/)])
  })
})
