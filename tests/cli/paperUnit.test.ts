import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { pdfText } from '../browser/pdfText.ts'

const skid = JSON.parse(
  readFileSync(new URL('../../sample-routes/thirty-runs.json', import.meta.url), 'utf8'),
)
skid.runs = skid.runs.filter((r: { tag: string }) => ['AE-210', 'WS-205', 'WS-206'].includes(r.tag))
const FILES: Record<string, string> = {
  'skid.json': JSON.stringify(skid),
  'route.csv': 'x,y,z\n0,0,0\n20,0,0\n20,10,0\n',
}
const ROUTE = 'route.csv --od 12 --wall 1.5 --clr 36'

async function dogleg(line: string) {
  let [out, err] = ['', '']
  let written = '' as string | Uint8Array
  const code = await main(line.split(' '), {
    read: async path => FILES[path] ?? '',
    write: async (_, data) => {
      written = data
    },
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err, text: written instanceof Uint8Array ? await pdfText(written) : written }
}

describe('--unit on paper', () => {
  test('writes figures and sentences of a review in inches or fractions; without it in mm', async () => {
    const said = async (unit: string) => (await dogleg(`review skid.json ${unit}--out r.pdf`)).text
    expect(await said('')).toMatch(/the clamp grips 30 mm: 14\.91 mm missing/)
    expect(await said('--unit in ')).toMatch(/the clamp grips 1\.181 in: 0\.587 in missing/)
    const fractions = await said('--unit fraction ')
    expect(fractions).toMatch(/the clamp grips 1 3\/16 in: 19\/32 in missing/)
    expect(fractions).toContain('inches to 1/64')
  })
  test('and of a sheet and a strip', async () => {
    const sheet = await dogleg('sheet skid.json --run AE-210 --unit fraction --out s.pdf')
    expect(sheet.text).toMatch(/the clamp grips 1 3\/16 in: 19\/32 in missing/)
    expect(sheet.text).toContain('inches to 1/32')
    expect((await dogleg('sheet skid.json --run AE-210 --out s.pdf')).text).toContain('14.91 mm missing')
    expect((await dogleg('strip skid.json --run WS-205 --unit in --out s.pdf')).text).toMatch(
      /cut length [\d.]+ in/,
    )
  })
  test('of a table is its own unit; fractions are of inches', async () => {
    expect((await dogleg(`sheet ${ROUTE} --unit cm --out s.pdf`)).text).toContain('200.0')
    expect((await dogleg(`sheet ${ROUTE} --unit in --out s.pdf`)).text).toContain('20.000')
    const fraction = await dogleg(`sheet ${ROUTE} --unit fraction --out s.pdf`)
    expect(fraction.text).toContain('inches to 1/32')
    expect(fraction.text).not.toContain('20.000')
  })
  test.each([
    ['review skid.json --unit ft --out r.pdf', /--unit: found "ft"; wanted one of mm, in, fraction/],
    [
      'sheet skid.json --unit yard --out r.pdf',
      /--unit: found "yard"; wanted one of mm, cm, m, in, ft, fraction/,
    ],
    ['review skid.json --csv --unit in', /--unit: skid.json is a skid document, which states its own/],
    ['check skid.json --unit in', /--unit: skid.json is a skid document, which states its own/],
    [`solve ${ROUTE} --unit fraction`, /--unit: found "fraction"; wanted one of mm, cm, m, in, ft$/m],
  ])('%s is refused', async (line, reason) => {
    const { code, err } = await dogleg(line)
    expect(err).toMatch(reason)
    expect(code).toBe(2)
  })
})

test('the table of a review and JSON are in mm whatever is shown, with each sentence once', async () => {
  const { out } = await dogleg('review skid.json --csv')
  expect(out).toContain('the clamp grips 30 mm: 14.91 mm missing')
  const json = await dogleg('check skid.json --json')
  expect(json.out).toContain(
    '"message": "straight 3, between bends 2 and 3, is 15.09 mm; the clamp grips 30 mm',
  )
  expect(json.out).not.toContain('"sentence"')
})
