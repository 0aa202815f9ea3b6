import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Page } from 'playwright-core'
import { readDocument } from '../../src/document/readDocument.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { allKept, caughtUp, equal, files, holds, openApp, openText, test } from './harness.ts'

const MARKUP = '<img src=x onerror="document.title=1"><b>'

/** A sample whose every free text is markup, told apart by a word of its own. */
function marked(): string {
  const read = readDocument(
    readFileSync(resolve(import.meta.dirname, '../../sample-routes/algae-manifold.json'), 'utf8'),
  )
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  const skid = read.document
  const mark = (word: string) => `${MARKUP}${word}`
  return writeDocument({
    ...skid,
    name: mark('skid'),
    note: mark('note'),
    fittings: skid.fittings.map((f, i) => ({ ...f, name: mark(`fitting${i}`) })),
    solids: skid.solids.map((s, i) => ({ ...s, name: mark(`solid${i}`) })),
    benders: skid.benders.map((b, i) => ({ ...b, name: mark(`bender${i}`), note: mark('bendernote') })),
    runs: skid.runs.map((r, i) => ({ ...r, tag: mark(`run${i}`), service: mark(`service${i}`) })),
    supports: skid.runs.slice(0, 1).map(r => ({
      id: 'c1',
      name: mark('support'),
      type: mark('type'),
      run: r.id,
      at: r.vertices[0]?.at ?? [0, 0, 0],
    })),
    viewpoints: [
      {
        id: 'view1',
        name: mark('view'),
        note: mark('viewnote'),
        by: mark('by'),
        on: '2026-01-01',
        target: [0, 0, 0],
        yaw: 30,
        pitch: 20,
        span: 900,
        projection: 'perspective',
        section: null,
        hidden: [],
      },
    ],
  })
}

/** Notes whatever element of the markup ever comes into the page, however shortly it stays. */
function watch(): void {
  const make = URL.createObjectURL
  Object.assign(window, { came: [] as string[], pictures: [] as Blob[] })
  Object.assign(URL, {
    createObjectURL(of: Blob) {
      if (of.type === 'image/svg+xml') (window as unknown as { pictures: Blob[] }).pictures.push(of)
      return make.call(URL, of)
    },
  })
  new MutationObserver(() => {
    for (const e of document.querySelectorAll('[onerror], img[src="x"]'))
      (window as unknown as { came: string[] }).came.push(e.outerHTML)
  }).observe(document, { subtree: true, childList: true, attributes: true })
}
const came = (page: Page) => page.evaluate(() => (window as unknown as { came: string[] }).came)
/** Of all pages drawn so far: what their texts say together, and the names of their elements. */
const drawn = (page: Page) =>
  page.evaluate(async () => {
    const texts: string[] = []
    const names = new Set<string>()
    for (const picture of (window as unknown as { pictures: Blob[] }).pictures) {
      const svg = new DOMParser().parseFromString(await picture.text(), 'image/svg+xml')
      for (const e of svg.querySelectorAll('*')) names.add(e.localName)
      texts.push(svg.documentElement.textContent ?? '')
    }
    return { text: texts.join('\n'), names: [...names] }
  })
const shows = (page: Page, word: string) =>
  page.getByText(`${MARKUP}${word}`).filter({ visible: true }).first().waitFor()

test('markup in any text of a file is shown as the text it is, in every list, label and sheet', async bench => {
  const { page, troubles } = await openApp(bench, { before: watch })
  await openText(page, '<i>file.json', marked())
  await page.locator('.said', { hasText: 'Opened “<i>file.json”.' }).waitFor()
  await caughtUp(page)
  equal(
    await page.getByRole('textbox', { name: 'Name of the skid' }).inputValue(),
    `${MARKUP}skid`,
    'the name of the skid',
  )
  equal(await page.title(), `${MARKUP}skid – Dogleg`, 'the title of the page')
  await shows(page, 'run0')
  await page.keyboard.type('vv')
  await shows(page, 'view')
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  holds(
    (await page
      .getByRole('main')
      .locator('option', { hasText: `${MARKUP}run0` })
      .count()) > 0,
    'the bench does not show the tag of the run',
  )
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.getByRole('button', { name: 'Save list (CSV)' }).waitFor()
  await shows(page, 'run')
  await files(page, 'Paper and files')
  const dialog = page.getByRole('dialog')
  for (const make of ['Fabrication sheet', 'Review report']) {
    await dialog.getByRole('radio', { name: new RegExp(`^${make}`) }).check()
    await dialog.getByRole('img', { name: /^Page 1 of/ }).waitFor()
    await page.waitForFunction(() => (window as unknown as { pictures: Blob[] }).pictures.length > 0, null, {
      polling: 100,
    })
    const { text, names } = await drawn(page)
    holds(
      text.includes('<img src=x'),
      `the ${make.toLowerCase()} does not show the text: ${text.slice(0, 300)}`,
    )
    equal(
      names.filter(n => ['img', 'b', 'parsererror', 'script'].includes(n)),
      [],
      `elements of the ${make.toLowerCase()} made of text`,
    )
    await page.evaluate(() => {
      ;(window as unknown as { pictures: Blob[] }).pictures.length = 0
    })
  }
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: 'Layout', exact: true }).click()
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill(`${MARKUP}typed`)
  await name.press('Enter')
  await allKept(page)
  await files(page, 'Saved in this browser')
  await shows(page, 'typed')
  equal(await came(page), [], 'elements made of text')
  equal(troubles, [], 'what the page complained of')
})
