import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { pdfText } from '../browser/pdfText.ts'

const sample = (name: string) =>
  readFileSync(new URL(`../../sample-routes/${name}.json`, import.meta.url), 'utf8')

async function dogleg(args: string, file: string) {
  let out = ''
  let written: string | Uint8Array = ''
  const code = await main(args.split(' '), {
    read: async () => file,
    write: async (_, data) => {
      written = data
    },
    out: text => {
      out += text
    },
    err: () => {},
  })
  return { code, out, said: typeof written === 'string' ? written : await pdfText(written) }
}
const BROKEN = sample('cannot-be-made')
const ROUTE = sample('first-route')

test('sheet and strip of a run that cannot be made are stamped and give exit 1, whoever releases it', async () => {
  for (const command of ['sheet', 'strip'])
    for (const release of ['', ' --released-by Bo --reason urgent']) {
      const { code, said } = await dogleg(`${command} f.json --run CB-301${release} --out f.pdf`, BROKEN)
      expect(code, command).toBe(1)
      expect(said).toContain('CANNOT BE MADE')
      expect(said).toMatch(/straights? [\d, ]+ too short for its bends/)
      expect(said).not.toContain('RELEASED BY OVERRIDE')
      expect(said).toContain('pinch points')
    }
})

test('sheet and strip with open findings give exit 1, and 0 when somebody lets them out by name', async () => {
  for (const command of ['sheet', 'strip']) {
    const held = await dogleg(`${command} f.json --run AE-101 --out f.pdf`, ROUTE)
    expect([held.code, /NOT RELEASED 1 open finding/.test(held.said)], command).toEqual([1, true])
    const out = await dogleg(
      `${command} f.json --run AE-101 --released-by Bo --reason urgent --out f.pdf`,
      ROUTE,
    )
    expect(out.code, command).toBe(0)
    expect(out.said).toMatch(/RELEASED BY OVERRIDE 1 open finding, Bo: urgent/)
  }
})

test('a pack of sheets gives exit 1 as soon as one run of it is held', async () => {
  expect((await dogleg('sheet f.json --out f.pdf', BROKEN)).code).toBe(1)
  const two = await dogleg('sheet f.json --out f.pdf', sample('two-bends'))
  const check = await dogleg('check f.json', sample('two-bends'))
  expect(two.code).toBe(check.code)
})

test('bench says that a run cannot be made as an error, with exit 1, and carries release state and cautions', async () => {
  const { code, out } = await dogleg('bench f.json --run CB-301', BROKEN)
  expect(code).toBe(1)
  expect(out).toMatch(/ {2}ERROR: straight \d is [\d.]+ mm too short for its bends: the run cannot be made/)
  expect(out).not.toMatch(/note: straight \d is [\d.]+ mm too short/)
  expect(out).toContain('CANNOT BE MADE: NOT RELEASED')
  expect(out).toContain('pinch points')
  const json = JSON.parse((await dogleg('bench f.json --run CB-301 --json', BROKEN)).out)
  expect(json.runs[0].errors.length).toBeGreaterThan(0)
  expect((await dogleg('bench f.json --run AE-101 --lead B', ROUTE)).out).toContain(
    'NOT RELEASED: 1 open finding',
  )
})
