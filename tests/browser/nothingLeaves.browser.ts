import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Page } from 'playwright-core'
import { cutTable } from '../../src/document/cutTable.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { manyRuns } from '../manyRuns.ts'
import { caughtUp, equal, files, holds, openApp, openText, savedText, test } from './harness.ts'
import { chooseTable, openImport } from './importTable.ts'

const SAMPLES = resolve(import.meta.dirname, '../../sample-routes')

function sample(name: string): SkidDocument {
  const read = readDocument(readFileSync(resolve(SAMPLES, `${name}.json`), 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  return read.document
}
const says = (page: Page, words: string) => page.locator('.said', { hasText: words }).waitFor()
const mode = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click()

/** One triangle as a text STL. */
const STL = `solid t\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 900 0 0\nvertex 0 900 0\nendloop\nendfacet\nendsolid t\n`

test('nothing is asked of anybody but the app’s own address, whatever is done', async bench => {
  const context = await bench.browser.newContext({ acceptDownloads: true })
  const asked: string[] = []
  context.on('request', request => asked.push(request.url()))
  context.on('page', page => page.on('websocket', socket => asked.push(socket.url())))
  await context.grantPermissions(['clipboard-write'])
  const { page, troubles } = await openApp(bench, { context })

  await openText(page, 'opened.json', writeDocument({ ...sample('two-bends'), name: 'Opened' }))
  await says(page, 'Opened “opened.json”.')
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('https://example.invalid/x.png')
  await name.press('Enter')
  const table = await openImport(page)
  await chooseTable(page, table, 'route.csv', 'x,y,z\n0,0,0\n200,0,0\n200,300,0\n')
  await table.getByRole('button', { name: 'Add one run' }).click()
  await files(page, 'Import a model')
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page
      .getByRole('button', { name: /^Choose a file/ })
      .first()
      .click(),
  ])
  await chooser.setFiles({ name: 'plate.stl', mimeType: 'model/stl', buffer: Buffer.from(STL) })
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await caughtUp(page)
  await files(page, 'Copy a link')
  await says(page, 'Nothing was sent anywhere.')
  await savedText(page, () => files(page, 'Save'))
  await mode(page, 'Bend')
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  await mode(page, 'Review')
  await savedText(page, () => page.getByRole('button', { name: 'Save list (CSV)' }).click())
  await files(page, 'Paper and files')
  await page
    .getByRole('dialog')
    .getByRole('img', { name: /^Page 1 of/ })
    .waitFor()
  await savedText(page, () => page.getByRole('button', { name: 'Save fabrication sheet' }).click())
  await page.keyboard.press('Escape')
  await mode(page, 'Layout')

  const strangers = asked.filter(url => !url.startsWith(bench.address) && !/^(blob|data):/.test(url))
  equal(strangers, [], 'requests to anybody else')
  holds(asked.length > 20, `only ${asked.length} requests were seen: they are not being recorded`)
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('what the page is made to ask of others by its own script is stopped by its policy', async bench => {
  const { page } = await openApp(bench)
  const reached = await page.evaluate(async () => {
    const stopped: string[] = []
    document.addEventListener('securitypolicyviolation', e => stopped.push(e.effectiveDirective))
    await fetch('https://example.invalid/').catch(() => {})
    const image = new Image()
    image.src = 'https://example.invalid/x.png'
    await new Promise(done => setTimeout(done, 500))
    // The page's own policy and the served one each report what they stop.
    return [...new Set(stopped)].sort()
  })
  equal(reached, ['connect-src', 'img-src'], 'what the policy stopped')
})

test('where a link would be too long it says so and hands over a file', async bench => {
  const { page } = await openApp(bench)
  const long = manyRuns(60)
  const far = {
    ...long,
    runs: long.runs.map((run, i) => ({
      ...run,
      // Figures that no packing makes short.
      vertices: run.vertices.map((v, k) => ({
        ...v,
        at: v.at.map(c => c + Math.sin(i * 97 + k * 31 + c) / 7) as [number, number, number],
      })),
    })),
  }
  await openText(page, 'long.json', writeDocument(far))
  await says(page, 'Opened “long.json”.')
  await page.evaluate(() => {
    const said = document.querySelector('.said')
    const seen: string[] = []
    Object.assign(window, { seen })
    if (said)
      new MutationObserver(() => seen.push(said.textContent ?? '')).observe(said, {
        subtree: true,
        childList: true,
        characterData: true,
      })
  })
  const { text } = await savedText(page, () => files(page, 'Copy a link'))
  const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen)
  holds(
    seen.some(s => /^A link to this skid would have \d+ characters, more than/.test(s)),
    `it said only ${seen.join(' | ')}`,
  )
  equal(text, writeDocument(far), 'the file in place of the link')
})

const FORMULAS = ['=1+1', '+1+1', '-1+1', '@SUM(1)', '\t=1+1'] as const

test('cells of a downloaded list that a spreadsheet would take for a formula are plain text', async bench => {
  const { page } = await openApp(bench)
  const plain = sample('algae-manifold')
  const risky: SkidDocument = {
    ...plain,
    name: '=1+1',
    runs: plain.runs.map((run, i) => ({
      ...run,
      tag: `${FORMULAS[i % FORMULAS.length]}${i}`,
      service: '=HYPERLINK("x")',
      tube: { ...run.tube, material: '@odd' },
    })),
  }
  await openText(page, 'risky.json', writeDocument(risky))
  await says(page, 'Opened “risky.json”.')
  await caughtUp(page)
  await mode(page, 'Review')
  const lists = [await savedText(page, () => page.getByRole('button', { name: 'Save list (CSV)' }).click())]
  await files(page, 'Paper and files')
  await page
    .getByRole('dialog')
    .getByRole('radio', { name: /^Cut list/ })
    .check()
  for (const name of ['Save CSV', 'Save material CSV'])
    lists.push(await savedText(page, () => page.getByRole('button', { name, exact: true }).click()))
  let apostrophes = 0
  for (const { name, text } of lists) {
    const lines = cutTable(text, ',')
    holds(Array.isArray(lines) && lines.length > 1, `${name} holds no lines`)
    const cells = lines.flatMap(line => line.cells)
    equal(
      cells.filter(c => /^[=+\-@\t\r]/.test(c) && !Number.isFinite(Number(c))),
      [],
      `cells of ${name} that would be calculated`,
    )
    apostrophes += cells.filter(c => /^'[=+\-@\t]/.test(c)).length
  }
  holds(apostrophes > 3, 'the lists name none of the runs at all')
})
