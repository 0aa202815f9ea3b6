import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { documentOf, runOf, sampleDocument } from '../document/sampleDocument.ts'
import { pdfStrings } from '../outputs/pdfStrings.ts'

/** Runs the command line on files that are only in memory. */
async function dogleg(args: string, files: Readonly<Record<string, string>> = {}) {
  let out = ''
  let err = ''
  const written: Record<string, string | Uint8Array> = {}
  const code = await main(args.split(' ').filter(Boolean), {
    read: async path => {
      const text = files[path]
      if (text === undefined) throw Object.assign(new Error('none'), { code: 'ENOENT' })
      return text
    },
    write: async (path, data) => {
      written[path] = data
    },
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err, written }
}

const TUBE = '--od 12 --wall 1.5 --clr 38.1'
// Four points whose figures were computed independently in double precision, to six decimals.
const POINTS = 'x,y,z\n0,0,0\n200,0,0\n300,100,50\n300,250,150\n450,250,150\n'
const SHORT = documentOf([
  runOf(
    'r',
    [
      [200, 0, 0],
      [200, 92, 0],
    ],
    { endB: { kind: 'free', at: [400, 92, 0] } },
  ),
])

describe('solve', () => {
  test('gives the figures of a CSV route, computed independently, as JSON in full precision', async () => {
    const { code, out, err } = await dogleg(`solve r.csv ${TUBE} --json`, { 'r.csv': POINTS })
    expect([code, err]).toEqual([0, ''])
    const { runs } = JSON.parse(out)
    expect(runs).toHaveLength(1)
    const [run] = runs
    expect(run.tag).toBe('r')
    const six = (list: number[]) => list.map(n => Number(n.toFixed(6)))
    expect(six(run.bends.map((b: { angle: number }) => b.angle))).toEqual([48.189685, 42.302625, 90])
    expect(run.bends[0].rotation).toBeNull()
    expect(six(run.bends.slice(1).map((b: { rotation: number }) => b.rotation))).toEqual([
      10.619655, 172.104858,
    ])
    expect(six(run.straights)).toEqual([182.961162, 118.22038, 127.436782, 111.9])
    expect(run.developedLength).toBeCloseTo(660.540376, 6)
    expect(run.cutLength).toBe(run.developedLength)
    expect(run.bends.map((b: { vertex: number }) => b.vertex)).toEqual([2, 3, 4])
    expect(run.bends[2]).toMatchObject({
      clr: 38.1,
      tangentLength: expect.closeTo(38.1, 9),
      arcLength: expect.closeTo((38.1 * Math.PI) / 2, 9),
    })
    expect(out).toMatch(/182\.9611620\d{5,}/)
    expect(run.findings).toMatchObject([{ rule: 'benderChecks', severity: 'notChecked', state: 'none' }])
  })

  test('gives a table for a person, with insertions and trim in the cut length', async () => {
    const { code, out } = await dogleg('solve s.json', { 's.json': writeDocument(sampleDocument()) })
    expect(code).toBe(0)
    expect(out).toContain('TAG-r1  tube 12 × 1.5 mm, 316, CLR 36')
    expect(out).toMatch(/row {2}straight {2}rotation {2}angle/)
    expect(out).toMatch(/1 {4}264\.00 +90\.00/)
    expect(out).toMatch(/cut length .*\(with 22 insertion at A, 22 insertion at B, 3 trim\)/)
    expect(out).toContain('0 open, 0 accepted, 1 not checked, 0 notes')
    expect(out).toMatch(
      /NOT CHECKED .*Pump frame: clearance not checked, its file pump-frame\.stp is missing\./,
    )
  })

  test('of a route without solution says why on stderr, keeps its place in the JSON, and is open', async () => {
    const { code, out, err } = await dogleg(`solve r.csv ${TUBE} --json`, {
      'r.csv': 'x,y,z\n0,0,0\n200,0,0\n100,0,0\n',
    })
    expect(code).toBe(1)
    expect(err).toContain('r: point 2: found a bend of 180')
    expect(JSON.parse(out).runs[0]).toMatchObject({
      straights: [],
      bends: [],
      developedLength: null,
      cutLength: null,
      findings: [{ rule: 'reversal' }, { severity: 'notChecked' }, { severity: 'notChecked' }],
    })
  })
})

describe('check', () => {
  test('exits 1 with open findings, each with its identity, 0 when someone accepted them', async () => {
    const first = await dogleg('check d.json --json', { 'd.json': writeDocument(SHORT) })
    expect(first.code).toBe(1)
    const report = JSON.parse(first.out)
    expect(report.open).toBe(1)
    const [found] = report.runs[0].findings
    expect(found).toMatchObject({
      id: 'straightClamp:r:v1:v2',
      measured: expect.closeTo(20, 9),
      limit: 30,
      unit: 'mm',
      state: 'open',
    })
    const accepted = {
      ...SHORT,
      acceptances: [
        {
          finding: found.id,
          category: 'agreed',
          reason: 'trial piece',
          by: 'N. Ame',
          on: '2026-02-01',
          measured: 20,
          limit: 30,
        } as const,
      ],
    }
    const second = await dogleg('check d.json', { 'd.json': writeDocument(accepted) })
    expect(second.code).toBe(0)
    expect(second.out).toContain('[accepted by N. Ame: trial piece]')
    const third = await dogleg('check d.json', {
      'd.json': writeDocument({ ...accepted, acceptances: [{ ...accepted.acceptances[0]!, measured: 25 }] }),
    })
    expect(third.code).toBe(1)
    expect(third.out).toContain('reopened by')
  })

  test('checks a CSV against a bender of the reference table when told to', async () => {
    const text = 'x,y,z\n0,0,0\n200,0,0\n200,92,0\n400,92,0\n'
    const args = 'check r.csv --od 12mm --wall 1.5 --clr 36'
    const without = await dogleg(args, { 'r.csv': text })
    expect(without.code).toBe(0)
    expect(without.out).toContain('NOT CHECKED')
    const against = await dogleg(`${args} --bender bench-left`, { 'r.csv': text })
    expect(against.code).toBe(1)
    expect(against.out).toContain('the clamp grips 30 mm: 10 mm missing')
  })
})

describe('clearance', () => {
  // Two parallel tubes of 12 OD, 20 mm from centre to centre: 8 mm between outsides, 10 mm asked for.
  const lane = (id: string, y: number) =>
    runOf(id, [], { endA: { kind: 'free', at: [0, y, 0] }, endB: { kind: 'free', at: [500, y, 0] } })
  const pair = { 'd.json': writeDocument(documentOf([lane('r1', 0), lane('r2', 20)])) }

  test('gives each near pair with its gap, nearest points and what is asked', async () => {
    const { code, out } = await dogleg('clearance d.json --json', pair)
    expect(code).toBe(1)
    const { pairs } = JSON.parse(out)
    expect(pairs).toMatchObject([{ a: 'TAG-r1', b: 'TAG-r2', clearance: expect.closeTo(8, 6), required: 10 }])
    expect(pairs[0].pointB[1] - pairs[0].pointA[1]).toBeCloseTo(8, 6)
  })

  test('looks no further than asked, but never hides a gap that is too small', async () => {
    const far = { 'd.json': writeDocument(documentOf([lane('r1', 0), lane('r2', 32)])) }
    const { code, out } = await dogleg('clearance d.json --within 5', far)
    expect(code).toBe(0)
    expect(out).toContain('0 pairs within 5 mm')
    const near = await dogleg('clearance d.json --within 5', pair)
    expect(near.code).toBe(1)
    expect(near.out).toMatch(/8\.00 +10\.00 +TAG-r1 and TAG-r2 +TOO CLOSE/)
  })

  test('an accepted gap is listed as that and leaves nothing open, as in check', async () => {
    const accepted = {
      ...documentOf([lane('r1', 0), lane('r2', 20)]),
      acceptances: [
        {
          finding: 'clearance:r1:r2',
          category: 'other' as const,
          reason: 'invented',
          by: 'a test',
          on: '2026-01-01',
          measured: 8,
          limit: 10,
        },
      ],
    }
    const text = { 'd.json': writeDocument(accepted) }
    for (const within of ['', ' --within 3']) {
      const { code, out } = await dogleg(`clearance d.json${within}`, text)
      expect(code).toBe(0)
      expect(out).toContain('TOO CLOSE (accepted)')
    }
    const worse = writeDocument({ ...accepted, runs: [lane('r1', 0), lane('r2', 18)] })
    expect((await dogleg('clearance d.json', { 'd.json': worse })).code).toBe(1)
  })

  test('is part of check, with the same figure', async () => {
    const { code, out } = await dogleg('check d.json --json', pair)
    expect(code).toBe(1)
    expect(JSON.parse(out).runs[0].findings).toMatchObject([
      { id: 'clearance:r1:r2', measured: expect.closeTo(8, 6), limit: 10, state: 'open' },
    ])
  })
})

describe('bench', () => {
  const file = { 'd.json': writeDocument(sampleDocument()) }

  test('gives mark, turn, dial and clearance of every step, in full precision', async () => {
    const { code, out } = await dogleg('bench d.json --run TAG-r1 --lead A --json', file)
    const [run] = JSON.parse(out).runs
    expect(run).toMatchObject({ tag: 'TAG-r1', lead: 'A', hand: 'left', kind: 'rotaryDraw', clr: 36 })
    // Insertion 22 and a straight of 264 before the first bend; the die's reference line sits 3 mm behind.
    expect(run.steps[0]).toMatchObject({ bend: 1, start: 286, mark: 289, turn: null, angle: 90 })
    expect(run.steps[1].start).toBeCloseTo(286 + 18 * Math.PI + 328, 9)
    for (const step of run.steps)
      expect(step.clearance).toMatchObject({ motion: expect.any(String), solid: expect.any(String) })
    expect(code).toBe(run.findings.length > 0 ? 1 : 0)
  })

  test('gives with every mark its end, how it is found on the part, and where each leg points', async () => {
    for (const lead of ['A', 'B']) {
      const { out } = await dogleg(`bench d.json --run TAG-r1 --lead ${lead} --json`, file)
      const [run] = JSON.parse(out).runs
      const bends = run.steps.length
      for (const [i, step] of run.steps.entries()) {
        expect(step).toMatchObject({ markEnd: lead, turnedEndForEnd: false })
        expect(Object.keys(step.onPart)).toEqual(['from', 'distance'])
        expect(step.legs.map((l: { leg: number }) => l.leg)).toEqual(
          Array.from({ length: bends + 1 }, (_, k) => k + 1),
        )
        const bent = step.legs.filter((l: { clock: number | null }) => l.clock !== null)
        expect(bent.length > 0).toBe(i > 0)
        for (const { clock, ahead } of bent) {
          expect(clock).toBeGreaterThanOrEqual(0)
          expect(clock).toBeLessThan(360)
          // In a plain order everything bent lies beyond the die.
          expect(ahead).toBe(true)
        }
      }
      expect(run.steps[0].onPart).toEqual({ from: `end ${lead}`, distance: run.steps[0].mark })
    }
  })

  test('takes an order of one’s own, and refuses one that is none', async () => {
    const { out } = await dogleg('bench d.json --run TAG-r1 --order 2B,1A --json', file)
    const [run] = JSON.parse(out).runs
    expect(
      run.steps.map((s: { bend: number; markEnd: string; turnedEndForEnd: boolean }) => [
        s.bend,
        s.markEnd,
        s.turnedEndForEnd,
      ]),
    ).toEqual([
      [2, 'B', false],
      [1, 'A', true],
    ])
    expect(run.steps[1].onPart).toMatchObject({ from: 'end A' })
    for (const [order, why] of [
      ['2B', 'bend 1 is missing'],
      ['1A,1B', 'bend 1 is listed twice'],
      ['1A,x', '"X" is neither a bend number nor an end'],
      ['1A,2A,B', '"B" leads no bend'],
      ['A,B,1,2', '"A" leads no bend'],
    ]) {
      const { code, err } = await dogleg(`bench d.json --run TAG-r1 --order ${order}`, file)
      expect([code, err]).toEqual([2, expect.stringContaining(why!)])
    }
    expect((await dogleg('bench d.json --order 2B,1A', file)).err).toContain('--order: found no --run')
    expect((await dogleg('bench d.json --run TAG-r1 --lead A --order 2B,1A', file)).code).toBe(2)
  })

  test('counts bends, straights and points from 1 in JSON as in its text', async () => {
    const json = JSON.parse((await dogleg('bench d.json --run TAG-r1 --lead B --json', file)).out).runs[0]
    const bends = json.steps.length
    expect(json.steps.map((s: { bend: number }) => s.bend)).toEqual(
      Array.from({ length: bends }, (_, k) => bends - k),
    )
    const { out } = await dogleg('bench d.json --run TAG-r1 --lead B', file)
    const rows = out.split('\n').filter(line => /^ +\d+ +\d+ /.test(line))
    expect(rows.map(line => Number(line.trim().split(/ +/)[1]))).toEqual(
      json.steps.map((s: { bend: number }) => s.bend),
    )
    for (const step of json.steps)
      for (const { part } of step.motions) expect(part.index).toBeGreaterThanOrEqual(1)
    const checked = JSON.parse((await dogleg('check s.json --json', { 's.json': writeDocument(SHORT) })).out)
    const placed = checked.runs[0].findings.filter(
      (f: { where: { kind: string } }) => f.where.kind === 'straight',
    )
    expect(placed.length).toBeGreaterThan(0)
    for (const { where, message } of placed) expect(message).toContain(`straight ${where.index}`)
  })

  test('gives a list to follow, and each way of leading', async () => {
    for (const lead of ['A', 'B', 'best']) {
      const { out } = await dogleg(`bench d.json --run TAG-r1 --lead ${lead}`, file)
      expect(out).toMatch(/step +bend +start +mark +mark on the part +rotation +finished +dial +clears by/)
    }
  })

  test('takes a bender of the reference table in place of the own one', async () => {
    const { out } = await dogleg('bench d.json --run TAG-r1 --bender bench-right --json', file)
    expect(JSON.parse(out).runs[0]).toMatchObject({ bender: 'bench-right', hand: 'right' })
  })

  test.each([
    ['--run NONE', /found "NONE", wanted one of "TAG-r1"/],
    ['--run TAG-r1 --lead C', /--lead: found "C"; wanted A, B or best/],
    ['--run TAG-r1 --bender none', /found "none"/],
  ])('refuses %s', async (args, reason) => {
    const { code, out, err } = await dogleg(`bench d.json ${args}`, file)
    expect([code, out]).toEqual([2, ''])
    expect(err).toMatch(reason)
  })
})

describe('files for the shop and the office', () => {
  const file = { 'd.json': writeDocument(sampleDocument()) }
  const text = (data: string | Uint8Array | undefined) =>
    typeof data === 'string' ? data : new TextDecoder('latin1').decode(data)
  const strings = (pdf: string | Uint8Array | undefined) => pdfStrings(pdf as Uint8Array)

  test.each([
    ['step', /^ISO-10303-21;/],
    ['glb', /^glTF/],
    ['stl', /^binary STL/],
    ['dxf', /SECTION/],
  ])('all runs are written as %s', async (to, start) => {
    const { code, err, written } = await dogleg(`export d.json --to ${to} --out f.${to}`, file)
    expect([code, err]).toEqual([0, ''])
    expect(text(written[`f.${to}`])).toMatch(start)
  })

  test("one run's points and rows are written as tables that read back", async () => {
    const points = await dogleg('export d.json --run TAG-r1 --to csv --out f.csv', file)
    expect(text(points.written['f.csv'])).toBe('x,y,z\n0,0,0\n0,0,300\n400,0,300\n400,0,0\n')
    const rows = await dogleg('export d.json --run TAG-r1 --to rows --out f.csv', file)
    expect(text(rows.written['f.csv'])).toBe('straight,rotation,angle\n264,,90\n328,0,90\n264,,\n')
  })

  test('the sheet is a PDF, of one run or of all', async () => {
    const { code, written } = await dogleg('sheet d.json --run TAG-r1 --out s.pdf', file)
    expect(code).toBe(0)
    expect(text(written['s.pdf'])).toMatch(/^%PDF-1/)
    const all = await dogleg('sheet d.json --paper A3 --out s.pdf', file)
    for (const tag of ['TAG-r1', 'TAG-r2'])
      expect(
        strings(all.written['s.pdf']).some(s => s.startsWith(`Tube run ${tag}, `)),
        tag,
      ).toBe(true)
  })

  const route = {
    'r.json': readFileSync(new URL('../../sample-routes/first-route.json', import.meta.url), 'utf8'),
  }

  test('what is given of the title block is printed, and a release with its reason', async () => {
    const options = '--owner Works --number D-7 --title Feed --creator Ann --approver Bo --revision C'
    const { err, written } = await dogleg(
      `sheet r.json ${options} --tolerances 0.8,0.4,-,1/16in --released-by Bo --reason urgent --out s.pdf`,
      route,
    )
    expect(err).toBe('')
    const said = strings(written['s.pdf'])
    for (const given of ['Works', 'D-7', 'Feed', 'Ann', 'Bo', 'C']) expect(said).toContain(given)
    expect(said.join('\n')).toContain('Straights ±0.8 mm, bend angles ±0.4°, end to end ±1.59 mm.')
    expect(said.join('\n')).toMatch(/RELEASED BY OVERRIDE[\s\S]*1 open finding, Bo: urgent/)
  })

  test('sheet and strip go by the end that leads, and by the order of the checks when none is said', async () => {
    const said = async (line: string) =>
      strings((await dogleg(`${line} --out s.pdf`, route)).written['s.pdf'])
    for (const [lead, end] of [
      ['', 'B'],
      ['--lead A', 'A'],
      ['--lead B', 'B'],
      ['--lead best', 'B'],
    ] as const) {
      const options = `r.json --run AE-101 ${lead}`.trim()
      const putIn = (s: string) => s.startsWith(`Put in, end ${end} towards the`)
      expect((await said(`sheet ${options}`)).some(putIn), lead).toBe(true)
      expect(await said(`strip ${options}`), lead).toContain(`END ${end}`)
    }
    const hits = /In this order: making bend \d at [\d.]+°, straight \d runs [\d.]+ mm into/
    expect((await said('sheet r.json --lead A')).join('\n')).toMatch(hits)
    expect(await said('sheet r.json')).toContain('1 open finding')
  })

  test('the marking strip is a PDF that no printer scales, stretched by what its bars measured', async () => {
    const plain = await dogleg('strip d.json --run TAG-r1 --out s.pdf', file)
    expect(plain.code).toBe(0)
    expect(text(plain.written['s.pdf'])).toContain('/PrintScaling /None')
    const wider = await dogleg('strip d.json --run TAG-r1 --bar-x 99.5 --bar-y 100.2 --out s.pdf', file)
    expect(text(wider.written['s.pdf'])).not.toBe(text(plain.written['s.pdf']))
  })

  test('one run is written as a drawing', async () => {
    const { code, written } = await dogleg('export d.json --run TAG-r1 --to svg --out f.svg', file)
    expect(code).toBe(0)
    expect(text(written['f.svg'])).toMatch(/^<\?xml[\s\S]*<svg [\s\S]*TAG-r1[\s\S]*<\/svg>\s*$/)
  })

  test('the cut list nests every run, as text and as JSON', async () => {
    const { code, out } = await dogleg('cutlist d.json', file)
    expect(code).toBe(0)
    expect(out).toContain('TAG-r2')
    const json = JSON.parse((await dogleg('cutlist d.json --json', file)).out)
    expect(json.groups[0].pieces).toBe(2)
    expect(json.material.map((m: { kind: string }) => m.kind)).toEqual([
      'tube',
      'fitting',
      'fitting',
      'support',
    ])
  })

  test('cutlist takes stock with and without an end, leftovers, kerf, trim and the least remnant', async () => {
    const call =
      'cutlist d.json --json --stock 1000*1 --stock 39.5in --remnant 1040*1 --kerf 1/16in --trim 0 --least-remnant 20'
    const { code, out } = await dogleg(call, file)
    const list = JSON.parse(out)
    expect([code, list.kerf, list.endTrim, list.leastRemnant]).toEqual([0, 1.5875, 0, 20])
    // r1 needs 1019 mm and fits the remnant only; r2 needs 903 mm: the shorter stock that is bought.
    expect(list.groups[0].bars.map((b: { length: number }) => b.length).sort()).toEqual([1000, 1040])
    expect(list.groups[0].bought).toBe(1000)
  })

  test('cutlist writes the same list as PDF and as CSV', async () => {
    const { written } = await dogleg('cutlist d.json --out f.pdf --paper Letter', file)
    expect(text(written['f.pdf'])).toMatch(/^%PDF-1\.4/)
    expect(strings(written['f.pdf']).join('\n')).toContain('TAG-r2')
    const csv = (await dogleg('cutlist d.json --out f.csv', file)).written['f.csv']
    expect(String(csv)).toMatch(/^od mm,wall mm,material/)
  })

  test.each([
    ['export d.json --to step', /--out: found nothing/],
    ['export d.json --to iges --out f', /--to: found "iges"; wanted one of step/],
    ['export d.json --to csv --out f', /found 2 runs, wanted one of TAG-r1, TAG-r2/],
    ['sheet d.json --run x --out f', /--run: found "x"; wanted one of "TAG-r1"/],
    ['sheet d.json --paper B5 --out f', /--paper: found "B5"/],
    ['strip d.json --out f', /--run: found nothing; wanted one of "TAG-r1"/],
    ['strip d.json --run TAG-r1 --printer p --out f', /--printer: found no measured bar beside it/],
    ['cutlist d.json --stock 100', /stock/],
    ['cutlist d.json --stock long', /--stock: found "long", wanted a length, as in 6000, 20ft or 1200\*2/],
    ['cutlist d.json --stock 6000*1.5', /--stock: found "6000\*1.5", wanted .* a whole number behind the \*/],
    ['cutlist d.json --stock 1200*1', /found 2 pieces, .* of stock, wanted stock that holds them all/],
    ['cutlist d.json --remnant 900*2of', /--remnant: found "900\*2of"/],
    ['cutlist d.json --kerf -1', /--kerf/],
    ['cutlist d.json --trim 1,5', /--trim: found "1,5"; wanted a length in mm/],
    ['cutlist d.json --out f.txt', /--out: found "f.txt"; wanted a name that ends in .pdf or .csv/],
    ['sheet d.json --lead C --out f', /--lead: found "C"; wanted A, B or best/],
    ['strip d.json --run TAG-r1 --lead a --out f', /--lead: found "a"; wanted A, B or best/],
    ['sheet d.json --released-by Ann --out f', /--released-by and --reason: found one of them/],
    ['sheet d.json --tolerances 1,0.5 --out f', /--tolerances: found "1,0.5"; wanted straights,angles/],
    ['sheet d.json --tolerances 1,-2,1,3 --out f', /--tolerances: found "-2"/],
    ['sheet d.json --number 7 --out f', /--number: found it for 2 runs; wanted it with --run/],
    ['review d.json --csv --owner Works --out f', /--csv: found --owner too; wanted it for the PDF only/],
    ['sheet d.json --run TAG-r1 --app-url here --out f', /--app-url: found "here"; wanted the app's address/],
  ])('%s is refused and writes nothing', async (args, reason) => {
    const { code, err, written } = await dogleg(args, file)
    expect([code, written]).toEqual([2, {}])
    expect(err).toMatch(reason)
  })
})

describe('rows', () => {
  test('gives points back as CSV that solve to the same rows', async () => {
    const file = 'straight,rotation,angle\n80,,90\n60,90,90\n80,,\n'
    const { code, out } = await dogleg('rows r.csv --clr 20', { 'r.csv': file })
    expect(code).toBe(0)
    const solved = await dogleg('solve p.csv --od 6 --wall 1 --clr 20 --json', { 'p.csv': out })
    const [run] = JSON.parse(solved.out).runs
    expect(run.straights.map((s: number) => Number(s.toFixed(9)))).toEqual([80, 60, 80])
    expect(
      run.bends.map((b: { rotation: number | null }) => b.rotation && Number(b.rotation.toFixed(9))),
    ).toEqual([null, 90])
    expect(run.developedLength).toBeCloseTo(282.831853, 6)
    // From the origin along +x, the first bend towards +y.
    const points = out
      .trim()
      .split('\n')
      .slice(1)
      .map(l => l.split(',').map(Number))
    expect(points[0]).toEqual([0, 0, 0])
    expect(points[1]![0]).toBeCloseTo(100, 9)
    expect(points[1]!.slice(1)).toEqual([0, 0])
    expect(points[2]![1]).toBeCloseTo(100, 9)
  })
})

describe('bad input exits 2 with the place on stderr and nothing on stdout', () => {
  const csv = (text: string) => ({ 'r.csv': text })
  test.each<[string, string, Record<string, string>, RegExp]>([
    ['no command', '--json', {}, /found none, but --json; wanted one of solve/],
    ['an unknown command', 'toString x', {}, /found "toString"/],
    ['no file', 'solve', {}, /found no file/],
    ['a file that is not there', 'solve x.json', {}, /x\.json: found no such file/],
    ['two files', 'solve a.json b.json', {}, /found "b\.json" after the file/],
    ['an unknown option', 'solve a.json --fast', {}, /--fast/],
    [
      'a CSV without its tube',
      'solve r.csv --od 12',
      csv(POINTS),
      /--wall: found nothing; wanted a length in mm/,
    ],
    [
      'a length that could be two',
      'solve r.csv --od 1,5 --wall 1 --clr 3',
      csv(POINTS),
      /--od: found "1,5".*ambiguous/,
    ],
    [
      'a radius of 0',
      'solve r.csv --od 12 --wall 1 --clr 0',
      csv(POINTS),
      /--clr: found 0 mm; wanted more than 0/,
    ],
    [
      'a wall that fills the tube',
      'solve r.csv --od 12 --wall 6 --clr 36',
      csv(POINTS),
      /--wall: found 6 mm/,
    ],
    [
      'a bender that is not there',
      `solve r.csv ${TUBE} --bender x`,
      csv(POINTS),
      /--bender: found "x"; wanted one of bench-left/,
    ],
    [
      'a number that is not finite',
      `solve r.csv ${TUBE}`,
      csv('x,y,z\n0,0,0\nNaN,0,0\n'),
      /r\.csv: row 3, column 1: found "NaN"/,
    ],
    [
      'a number too large',
      `solve r.csv ${TUBE}`,
      csv('x,y,z\n0,0,0\n1e999,0,0\n'),
      /row 3, column 1: found "1e999"/,
    ],
    [
      'a route of one point',
      `solve r.csv ${TUBE}`,
      csv('x,y,z\n0,0,0\n'),
      /a route of one point; wanted at least two/,
    ],
    ['no header', `solve r.csv ${TUBE}`, csv('0,0,0\n1,0,0\n'), /wanted the header x,y,z/],
    ['10 MB of text', `solve r.csv ${TUBE}`, csv('x'.repeat(1e7)), /wanted the header/],
    ['a document that is 10 MB of text', 'check d.json', { 'd.json': 'x'.repeat(1e7) }, /no JSON/],
    [
      'a newer document',
      'check d.json',
      { 'd.json': '{"format":"dogleg-skid","version":7}' },
      /version: found 7; wanted 2 or older/,
    ],
    [
      'a document with a tube given too',
      'check d.json --od 12',
      { 'd.json': '{}' },
      /--od: d\.json is a skid document/,
    ],
    [
      'rows with an angle of 200',
      'rows r.csv --clr 20',
      csv('straight,rotation,angle\n1,,200\n1\n'),
      /row 2, column 3: found 200/,
    ],
    ['rows without a radius', 'rows r.csv', csv('straight,rotation,angle\n1\n'), /--clr: found nothing/],
    [
      'rows with a bender',
      'rows r.csv --clr 5 --bender x',
      csv('straight,rotation,angle\n1\n'),
      /--bender: rows does not take it/,
    ],
  ])('%s', async (_, args, files, reason) => {
    const { code, out, err } = await dogleg(args, files)
    expect([code, out]).toEqual([2, ''])
    expect(err).toMatch(reason)
    expect(err.length).toBeLessThan(600)
  })
})

test('2,000 points are solved and checked', async () => {
  const zigzag = Array.from({ length: 2000 }, (_, i) => `${i * 100},${(i % 2) * 100},0`).join('\n')
  const { code, out } = await dogleg(`solve r.csv ${TUBE} --json`, { 'r.csv': `x,y,z\n${zigzag}\n` })
  expect(code).toBe(0)
  expect(JSON.parse(out).runs[0].bends).toHaveLength(1998)
})

describe('as a program', () => {
  const spawn = (...args: string[]) =>
    spawnSync(process.execPath, ['src/cli/dogleg.mjs', ...args], {
      cwd: new URL('../../', import.meta.url),
      encoding: 'utf8',
    })

  test('it prints its help and exits 0', () => {
    const { status, stdout, stderr } = spawn('--help')
    expect([status, stderr]).toEqual([0, ''])
    expect(stdout).toContain('dogleg solve FILE')
  })

  test('it reads a real file, and a file that is not there exits 2', () => {
    const { status, stdout } = spawn('check', 'tests/old-files/version-1.dogleg.json', '--json')
    expect(status).toBe(0)
    expect(JSON.parse(stdout).runs.map((r: { tag: string }) => r.tag)).toEqual(['TAG-r1', 'TAG-r2'])
    const gone = spawn('check', 'no-such-file.json')
    expect([gone.status, gone.stdout]).toEqual([2, ''])
    expect(gone.stderr).toContain('no-such-file.json: found no such file')
  })
})
