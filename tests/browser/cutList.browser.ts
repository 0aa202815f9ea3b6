import { readFile } from 'node:fs/promises'
import AxeBuilder from '@axe-core/playwright'
import type { Locator, Page } from 'playwright-core'
import { main } from '../../src/cli/main.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { manyRuns } from '../manyRuns.ts'
import { seeded } from '../random.ts'
import { caughtUp, equal, files, holds, openApp, openText, test } from './harness.ts'
import { pdfText } from './pdfText.ts'

const SAMPLE = 'sample-routes/thirty-runs.json'

async function openCutList(page: Page): Promise<Locator> {
  await files(page, 'Paper and files')
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('combobox', { name: /^Run/ }).selectOption('')
  await dialog.getByRole('radio', { name: /^Cut list/ }).check()
  return dialog
}
/** The cut list is of the choices as they stand. */
async function nested(dialog: Locator): Promise<void> {
  await dialog.getByText('Calculating…').waitFor({ state: 'detached' })
  await dialog.locator('.cutBars').first().waitFor()
}
async function saved(page: Page, button: string): Promise<Buffer> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('dialog').getByRole('button', { name: button, exact: true }).click(),
  ])
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  return Buffer.concat(parts)
}
async function commandLine(...options: string[]): Promise<unknown> {
  let [out, err] = ['', '']
  const code = await main(['cutlist', SAMPLE, ...options, '--json'], {
    read: path => readFile(path, 'utf8'),
    write: async () => {},
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  holds(code === 0, `cutlist ended with ${code}: ${err}`)
  return JSON.parse(out)
}
/** A figure typed as a person does: into the field, Enter. */
async function type(field: Locator, text: string): Promise<void> {
  await field.fill(text)
  await field.press('Enter')
}

test('the cut list on screen is the command line’s, digit for digit, with plain and with other choices', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  const dialog = await openCutList(page)
  await nested(dialog)
  equal(JSON.parse((await saved(page, 'Save JSON')).toString()), await commandLine(), 'plain')

  await dialog.getByRole('checkbox', { name: /^20 ft/ }).check()
  await dialog.getByRole('button', { name: 'Add a length' }).click()
  await page.keyboard.type('4.5m')
  await page.keyboard.press('Enter')
  await type(dialog.getByRole('textbox', { name: 'How many of custom length 1' }), '2')
  await dialog.getByRole('button', { name: 'Add a leftover' }).click()
  await page.keyboard.type('2400')
  await page.keyboard.press('Tab')
  await page.keyboard.type('3')
  await page.keyboard.press('Tab')
  await dialog.getByRole('combobox', { name: 'Leftover 1, of which tube' }).selectOption({ index: 1 })
  const tube = await dialog.getByRole('combobox', { name: 'Leftover 1, of which tube' }).inputValue()
  await type(dialog.getByRole('textbox', { name: 'Kerf' }), '3.2')
  await type(dialog.getByRole('textbox', { name: 'Trim off each end' }), '1/4in')
  await type(dialog.getByRole('textbox', { name: 'Keep leftovers from' }), '500')
  // At once, while it is worked out: the file is of these choices, not of those before.
  const json = (await saved(page, 'Save JSON')).toString()
  const options = [
    '--stock',
    '6000',
    '--stock',
    '6096',
    '--stock',
    '4500*2',
    '--remnant',
    `2400*3 of ${tube}`,
  ]
  equal(
    JSON.parse(json),
    await commandLine(...options, '--kerf', '3.2', '--trim', '6.35', '--least-remnant', '500'),
    'other choices',
  )
  await nested(dialog)
  const { groups } = JSON.parse(json) as { groups: { bars: { remnant: boolean }[]; bought: number }[] }
  equal(
    await dialog.locator('.cutBars').evaluateAll(lists => lists.map(l => l.children.length)),
    groups.map(g => g.bars.length),
    'the bars drawn of each tube',
  )
  holds(
    groups.some(g => g.bars.some(b => b.remnant)),
    'no leftover was used',
  )
  await dialog.getByText(/\d of them leftovers/).waitFor()

  const text = await pdfText(await saved(page, 'Save PDF'))
  holds(text.includes('Kerf 3.2') && text.includes('Bar 1'), 'the PDF is of other choices')
  const csv = (await saved(page, 'Save CSV')).toString()
  holds(csv.includes('remnant') && csv.startsWith('od mm,'), 'the CSV has no leftover')
  holds((await saved(page, 'Save material CSV')).toString().startsWith('kind,item,'), 'no bill of material')
  equal(troubles, [], 'the page complained')
})

test('choices of the cut list outlast a reload and are no part of the document', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  let dialog = await openCutList(page)
  await nested(dialog)
  const bars = dialog.locator('.cutFigures')
  const before = await bars.first().textContent()
  await type(dialog.getByRole('textbox', { name: 'Kerf' }), '7')
  await dialog.getByRole('checkbox', { name: '6 m', exact: true }).uncheck()
  await dialog.getByRole('checkbox', { name: /^20 ft/ }).check()
  await nested(dialog)
  holds((await bars.first().textContent()) !== before, 'other stock changed no figure')
  await page.reload()
  await page.getByRole('button', { name: 'Files' }).waitFor()
  holds(await page.getByRole('button', { name: /^Undo/ }).isDisabled(), 'a choice became a step')
  dialog = await openCutList(page)
  equal(await dialog.getByRole('textbox', { name: 'Kerf' }).inputValue(), '7', 'the kerf')
  holds(await dialog.getByRole('checkbox', { name: /^20 ft/ }).isChecked(), '20 ft was forgotten')
})

test('refused figures and stock say why and nothing is saved; the cut list is accessible, dark and light', async bench => {
  const { page } = await openApp(bench, { query: 'sample=thirty-runs' })
  const dialog = await openCutList(page)
  await nested(dialog)
  const kerf = dialog.getByRole('textbox', { name: 'Kerf' })
  await type(kerf, '-1')
  await dialog.getByText('0 or more.').waitFor()
  equal(await kerf.getAttribute('aria-invalid'), 'true', 'aria-invalid of a kerf below 0')
  holds(await dialog.getByRole('button', { name: 'Save PDF' }).isDisabled(), 'a refused figure can be saved')
  await kerf.press('Escape')
  holds(await dialog.isVisible(), 'Escape in a field closed the dialog')
  equal(await kerf.inputValue(), '2', 'the kerf after Escape')
  await dialog.getByRole('checkbox', { name: '6 m', exact: true }).uncheck()
  await dialog.getByText(/stock lengths: found none/).waitFor()
  await dialog.getByRole('button', { name: 'Add a length' }).click()
  await page.keyboard.type('1m')
  await page.keyboard.press('Enter')
  await dialog.getByText(/cut list: run AE-.*longest stock/).waitFor()
  await dialog.getByRole('checkbox', { name: '6 m', exact: true }).check()
  await nested(dialog)
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    const { violations } = await new AxeBuilder({ page }).include('dialog').analyze()
    equal(
      violations.map(v => `${v.id} ${v.nodes[0]?.html}`),
      [],
      `accessibility, ${colorScheme}`,
    )
  }
})

test('a run that cannot be made is left out of the cut list by name and reason', async bench => {
  const { page } = await openApp(bench, { query: 'sample=cannot-be-made' })
  const dialog = await openCutList(page)
  await dialog.getByRole('heading', { name: 'Not in the list' }).waitFor()
  holds((await dialog.locator('.cutLeftOut li').count()) > 0, 'nothing is left out')
})

test('hundreds of runs of all lengths are nested in the end, and the work can be stopped and begun again', async bench => {
  const random = seeded(3)
  const many = manyRuns(1000)
  const runs = many.runs.map(r => ({ ...r, trimAllowance: Math.round(random.next() * 20000) / 10 }))
  const text = writeDocument({ ...emptyDocument('Many lengths, invented'), invented: true, runs })
  const { page } = await openApp(bench)
  await openText(page, 'many.json', text)
  await page.getByText('Many lengths').first().waitFor()
  await caughtUp(page)
  const dialog = await openCutList(page)
  await dialog.getByText('Calculating…').waitFor()
  await dialog.getByRole('button', { name: 'Stop' }).click()
  await dialog.getByText(/^Stopped/).waitFor()
  await dialog.getByRole('button', { name: 'Calculate' }).click()
  await dialog.getByText('Calculating…').waitFor()
  await dialog
    .getByText(/Best found|Proven/)
    .first()
    .waitFor({ timeout: 120_000 })
})
