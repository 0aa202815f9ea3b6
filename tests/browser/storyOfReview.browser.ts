import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { askCommandLine } from './commandLine.ts'
import { caughtUp, equal, holds, openApp, savedText, test } from './harness.ts'
import { pdfText } from './pdfText.ts'

const MODEL = 'feed-pump-skid.glb'
const MODEL_BYTES = readFileSync(new URL(`../../sample-routes/${MODEL}`, import.meta.url))

interface Told {
  readonly id: string
  readonly rule: string
  readonly state: string
}

/** Finding ids with whether each is open or accepted, as the command line lists them. */
async function byCommandLine(text: string): Promise<Map<string, string>> {
  const told = (await askCommandLine('check', text, { [MODEL]: MODEL_BYTES })) as {
    findings: readonly Told[]
    runs: readonly { findings: readonly Told[] }[]
  }
  const all = [...told.findings, ...told.runs.flatMap(r => r.findings)]
  return new Map(all.map(f => [f.id, f.state === 'none' ? 'note' : f.state]))
}

/** Goes through the list by keyboard, as a reviewer does; gives each finding's id, state and figure. */
async function walk(
  page: Page,
  at: (row: { id: string; what: string; figure: string }) => Promise<void>,
): Promise<Map<string, string>> {
  const seen = new Map<string, string>()
  await page.getByRole('listbox', { name: 'Findings' }).locator('[role="option"][tabindex="0"]').focus()
  await page.keyboard.press('Home')
  for (;;) {
    const row = await page.evaluate(() => {
      const { activeElement: row } = document
      return {
        id: row?.getAttribute('data-finding') ?? '',
        state: row?.querySelector(':scope > .hidden-label')?.textContent ?? '',
        what: row?.querySelector('.review-what b')?.textContent ?? '',
        figure: row?.querySelector('.review-figures > span')?.textContent ?? '',
        last: row?.getAttribute('aria-posinset') === row?.getAttribute('aria-setsize'),
      }
    })
    holds(
      row.id !== '' && !seen.has(row.id),
      `the keys lead to "${row.id}" after ${[...seen.keys()].join(' ')}`,
    )
    seen.set(row.id, row.state === 'reopened' ? 'open' : row.state)
    await at(row)
    if (row.last) return seen
    await page.keyboard.press('ArrowDown')
  }
}

/** Tab to the thing, as a hand on the keyboard does. */
async function tabTo(page: Page, selector: string): Promise<void> {
  for (let n = 0; n < 40; n++) {
    if (await page.evaluate(s => document.activeElement?.matches(s) ?? false, selector)) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab does not lead to ${selector}`)
}

test('the dense skid with its model is reviewed by keyboard: every gap dimensioned, one accepted, one mended, a report, and the command line has the same list', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=dense-skid' })
  await caughtUp(page)
  const saved = async () => (await savedText(page, () => page.keyboard.press('Control+s'))).text
  const before = await saved()
  await page.getByRole('button', { name: 'Review', exact: true }).press('Enter')
  await page.getByRole('listbox', { name: 'Findings' }).waitFor()

  let gaps = 0
  let withModel = 0
  const seen = await walk(page, async ({ id, what, figure }) => {
    if (!/^(clash|too close)/i.test(what)) return
    gaps++
    if (id.includes('/')) withModel++
    const text = figure.startsWith('-') ? `overlap ${figure.slice(1)}` : `gap ${figure}`
    await page.waitForFunction(
      // Before the figure it names the two.
      wanted => document.querySelector('.sceneLabel.gap')?.textContent?.endsWith(wanted),
      text,
      { polling: 100 },
    )
  })
  holds(gaps > 5 && withModel > 1, `${gaps} gaps, ${withModel} of them with the model`)
  const told = await byCommandLine(before)
  equal([...seen.keys()].sort(), [...told.keys()].sort(), 'the list and the command line’s')
  for (const [id, state] of told) equal(seen.get(id), state, id)

  // Accepts one.
  const search = page.getByRole('searchbox', { name: 'Search the findings' })
  await search.fill('WS-403 junction')
  const rows = page.getByRole('listbox', { name: 'Findings' }).getByRole('option')
  equal(await rows.count(), 1, 'findings of WS-403 and the junction box')
  await rows.first().focus()
  await page.keyboard.press('Home')
  // The category is the reviewer's to choose: none is there before, and without one nothing is accepted.
  await tabTo(page, '.decision select')
  equal(await page.locator('.decision select').inputValue(), '', 'the category before it is chosen')
  await page.getByRole('button', { name: 'Accept this finding' }).click()
  await page.getByText('Accepting needs a category, a reason and your name.').waitFor()
  await page.locator('.decision select').focus()
  await page.keyboard.type('stays')
  await tabTo(page, '.decision textarea')
  await page.keyboard.type('The box is opened from the other side.')
  await page.keyboard.press('Tab')
  await page.keyboard.type('A. Reviewer')
  await page.keyboard.press('Enter')
  await page.getByText('The box is opened from the other side.').last().waitFor()
  equal(await rows.first().locator('> .hidden-label').textContent(), 'accepted', 'its state')

  // Mends one.
  await search.fill('AE-404 AE-405 clash')
  equal(await rows.count(), 1, 'clashes of AE-404 and AE-405')
  await rows.first().focus()
  await page.keyboard.press('Home')
  await page
    .getByRole('button', { name: /^Apply: Move/ })
    .first()
    .waitFor({ timeout: 30_000 })
  await tabTo(page, '.mend-ways button')
  await page.keyboard.press('Enter')
  await page.getByText('Nothing matches “AE-404 AE-405 clash”.').waitFor({ timeout: 30_000 })
  await search.fill('')
  await caughtUp(page)

  const after = await byCommandLine(await saved())
  const now = await walk(page, async () => {})
  equal([...now.keys()].sort(), [...after.keys()].sort(), 'afterwards the list and the command line’s')
  for (const [id, state] of after) equal(now.get(id), state, id)
  equal(told.size - after.size, 1, 'findings that are mended')
  const open = [...after.values()].filter(s => s === 'open').length
  equal(open, [...told.values()].filter(s => s === 'open').length - 2, 'open findings left')

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Report (PDF)' }).press('Enter'),
  ])
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  const text = await pdfText(Buffer.concat(parts))
  holds(text.includes(`Open findings (${open})`), 'the report does not list the open findings')
  holds(text.includes('The box is opened from the other side.'), 'the report has not the reason')
  equal(troubles, [], 'the page complained')
})
