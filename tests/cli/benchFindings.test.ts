import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Finding } from '../../src/findings/finding.ts'
import { dogleg } from './inMemory.ts'

const FOLDER = new URL('../../sample-routes/', import.meta.url)
const sample = (name: string) => readFileSync(new URL(name, FOLDER), 'utf8')
/** The two large ones say nothing that the others do not, and take minutes. */
const SAMPLES = readdirSync(FOLDER).filter(name => /^(?!dense|thirty).*\.json$/.test(name))

type Said = Finding & { readonly state: string }
const isOfBender = ({ rule }: Said) => rule.startsWith('housing')
const ids = (findings: readonly Said[]) =>
  findings
    .filter(f => !isOfBender(f))
    .map(f => `${f.id} ${f.state} ${f.message}`)
    .sort()

interface Document {
  benders: { id: string; tooling: { maxAngle: number }[] }[]
  acceptances: unknown[]
}
/** The first sample with a stop that its square bend's dial reading of 93.3° lies past. */
function pastTheStop(change: (document: Document) => void = () => {}): Readonly<Record<string, string>> {
  const document = JSON.parse(sample('first-route.json')) as Document
  for (const bender of document.benders) for (const die of bender.tooling) die.maxAngle = 92
  change(document)
  return { 'd.json': JSON.stringify(document) }
}

describe.each(SAMPLES)('%s', name => {
  test('bench says of every run what check says of it, its own order in place of the checked one', async () => {
    const files = { 'd.json': sample(name) }
    const checked = JSON.parse((await dogleg(['check', 'd.json', '--json'], files)).out)
    const benched = JSON.parse((await dogleg(['bench', 'd.json', '--lead', 'B', '--json'], files)).out)
    const { out } = await dogleg(['bench', 'd.json', '--lead', 'B'], files)
    for (const run of benched.runs) {
      if (run.problem !== undefined) continue
      const of = checked.runs.find((r: { tag: string }) => r.tag === run.tag)
      expect(ids(run.findings), run.tag).toEqual(ids(of.findings))
      for (const f of run.findings as Said[])
        if (f.rule !== 'legOverrun') expect(out, f.id).toContain(f.message)
      const open = (run.findings as Said[]).filter(f => f.severity === 'error' && f.state === 'open')
      for (const f of open) if (f.rule !== 'legOverrun') expect(run.errors).toContain(f.message)
      expect(run.errors.length > 0).toBe(open.length > 0)
    }
  }, 120_000)

  test('bench and sheet of the same lead give the same exit code', async () => {
    const files = { 'd.json': sample(name) }
    for (const lead of ['A', 'best']) {
      const sheet = await dogleg(['sheet', 'd.json', '--lead', lead, '--out', 'o.pdf'], files)
      const bench = await dogleg(['bench', 'd.json', '--lead', lead, '--json'], files)
      const problem = JSON.parse(bench.out).runs.some((r: { problem?: string }) => r.problem !== undefined)
      expect(bench.code, lead).toBe(problem ? 1 : sheet.code)
    }
  }, 120_000)
})

test('bench says that a dial reading lies past the stop, in text and JSON, before the steps, with exit 1', async () => {
  for (const args of [
    [],
    ['--run', 'AE-101'],
    ['--lead', 'best'],
    ['--run', 'AE-101', '--order', '4B 3B 2B 1B'],
  ]) {
    const { code, out } = await dogleg(['bench', 'd.json', ...args], pastTheStop())
    expect(code).toBe(1)
    const said = /ERROR: (bend 1 must go to 93\.3\d*° .* allows 92°)/.exec(out)
    expect(said).not.toBeNull()
    expect(said!.index).toBeLessThan(out.indexOf('step  bend'))
    const json = JSON.parse((await dogleg(['bench', 'd.json', ...args, '--json'], pastTheStop())).out)
    expect(json.runs[0].errors).toContain(said![1])
    expect(json.runs[0].findings.map((f: Said) => [f.rule, f.state])).toContainEqual([
      'angleBeyondStop',
      'open',
    ])
    expect(json.runs[0].state.text).toBe('NOT RELEASED')
  }
})

test('bench looks at the stop of the bender that --bender names, not at the run’s own', async () => {
  const own = await dogleg(['bench', 'd.json', '--run', 'AE-101', '--lead', 'best', '--json'], pastTheStop())
  const other = await dogleg(
    ['bench', 'd.json', '--run', 'AE-101', '--lead', 'best', '--bender', 'bench-right', '--json'],
    pastTheStop(d => {
      d.benders = d.benders.filter(b => b.id !== 'bench-right')
    }),
  )
  const rules = ({ out }: { out: string }) => JSON.parse(out).runs[0].findings.map((f: Said) => f.rule)
  expect(rules(own)).toContain('angleBeyondStop')
  expect(rules(other)).not.toContain('angleBeyondStop')
})

test('what is accepted is said as accepted and does not count', async () => {
  const accepted = pastTheStop(d => {
    d.acceptances = []
  })
  const json = JSON.parse((await dogleg(['check', 'd.json', '--json'], accepted)).out)
  const files = pastTheStop(d => {
    d.acceptances = json.runs[0].findings
      .filter((f: Said) => f.state === 'open')
      .map((f: Said) => ({
        finding: f.id,
        measured: f.measured,
        limit: f.limit,
        by: 'Bo',
        reason: 'stop filed back',
        category: 'other',
        on: '2030-01-01',
      }))
  })
  const { code, out } = await dogleg(['bench', 'd.json', '--lead', 'best'], files)
  expect(out).toMatch(/accepted: bend 1 must go to .* \[accepted by Bo: stop filed back\]/)
  expect([code, /ERROR/.test(out)]).toEqual([0, false])
})

test('of two options of bench, each does something or the pair is refused by name', async () => {
  const files = { 'd.json': sample('first-route.json') }
  const options = [
    ['--run', 'AE-101'],
    ['--lead', 'B'],
    ['--lead', 'best'],
    ['--order', '4B 3B 2B 1A'],
    ['--margin', '40'],
    ['--bender', 'bench-right'],
    ['--json'],
    ['--models', '.'],
    ['--od', '12'],
    ['--unit', 'in'],
    ['--columns', 'x,y,z'],
  ]
  // The run is the only one of its file; only an order needs it said.
  const needed = (option: string) => option === '--run'
  let refused = 0
  for (const one of options)
    for (const two of options) {
      if (one === two) continue
      const both = await dogleg(['bench', 'd.json', ...one, ...two], files)
      if (both.code === 2) {
        refused++
        expect(both.err).toMatch(/^dogleg: --[a-z]+: /)
        continue
      }
      const without = await dogleg(['bench', 'd.json', ...one], files)
      if (!needed(two[0]!))
        expect([without.code, without.out], `${one} ${two}`).not.toEqual([both.code, both.out])
    }
  expect(refused).toBeGreaterThan(40)
})

test.each([
  [['--margin', '20'], /^dogleg: --margin: found no --lead, .*; wanted --lead best with it\n$/],
  [['--margin', '20', '--lead', 'A'], /^dogleg: --margin: found --lead A, .*; wanted --lead best/],
  [
    ['--margin', '20', '--run', 'AE-101', '--order', '1A 2A 3A 4A'],
    /^dogleg: --margin: found --order, .*; wanted/,
  ],
])('bench %s says that the margin does nothing there', async (args, said) => {
  const { code, out, err } = await dogleg(['bench', 'd.json', ...args], {
    'd.json': sample('first-route.json'),
  })
  expect([code, out]).toEqual([2, ''])
  expect(err).toMatch(said)
})

test('a folder of models is refused for a table, which has none', async () => {
  const table = { 'p.csv': 'x,y,z\n0,0,0\n200,0,0\n200,200,0\n' }
  for (const name of ['solve', 'check', 'bench', 'sheet']) {
    const args = [name, 'p.csv', '--od', '12', '--wall', '1.5', '--clr', '36', '--models', 'm']
    const { code, err } = await dogleg([...args, ...(name === 'sheet' ? ['--out', 'o'] : [])], table)
    expect([code, err]).toEqual([2, expect.stringMatching(/^dogleg: --models: p.csv is a table, .* wanted/)])
  }
})

test('bench says before which steps the tube comes out, in the sheet’s words, for mixed orders and both kinds of bender', async () => {
  const files = { 'd.json': sample('algae-manifold.json') }
  for (const bender of ['bench-left', 'bench-right', 'compression'])
    for (const order of ['4B 1A 3A 2B', '1A 2A 3A 4A', '2A 1B 4A 3B', '3B 1B 2B 4B']) {
      const args = ['bench', 'd.json', '--run', 'AF-101', '--bender', bender, '--order', order]
      const { out } = await dogleg(args, files)
      const [run] = JSON.parse((await dogleg([...args, '--json'], files)).out).runs
      const said = [...out.matchAll(/^ {2}before step (\d): (.*)$/gm)].map(m => [Number(m[1]), m[2]])
      const first: string[] = []
      run.steps.forEach(
        (step: { turnedEndForEnd: boolean; markEnd: string; takenOut: string | null }, i: number) => {
          const before = said.find(([n]) => n === i + 1)?.[1]
          expect(before !== undefined, `${bender} ${order} ${i + 1}`).toBe(step.takenOut !== null)
          if (bender === 'compression') expect(step.takenOut !== null).toBe(i > 0)
          if (before === undefined) return
          expect(before).toMatch(/^Take the tube out/)
          expect(before).toContain(
            step.turnedEndForEnd
              ? `end ${step.markEnd} now goes in first`
              : `put it in at the mark, end ${step.markEnd} towards the clamp`.slice(1),
          )
          first.push(String(before))
        },
      )
      if (bender === 'compression') expect(first).toHaveLength(3)
    }
})
