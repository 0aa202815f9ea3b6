import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { manyRuns } from '../manyRuns.ts'
import { caughtUp, equal, holds, openApp, openText, savedText, test } from './harness.ts'

const COUNT = 1000
/** More rows than this in the page would mean that the list is not cut to what is in sight. */
const MOST_ROWS = 40

const rows = (page: Page) => page.getByRole('grid', { name: 'Runs' }).getByRole('row')
const focusedRun = (page: Page) =>
  page.evaluate(() => document.activeElement?.getAttribute('data-run') ?? null)
const pickedSay = (page: Page) => page.locator('.picked-head').textContent()
const listSays = (page: Page) => page.locator('.run-panel .panel-head .quiet').textContent()
function read(text: string): SkidDocument {
  const answer = readDocument(text)
  holds(answer.ok, 'the saved file cannot be read')
  return answer.document
}
const save = (page: Page) => savedText(page, () => page.keyboard.press('Control+s'))

async function fewRows(page: Page, when: string): Promise<void> {
  const found = await rows(page).count()
  holds(found > 3 && found <= MOST_ROWS, `${found} rows are in the page ${when}`)
}

test('a thousand runs are listed, found, picked, isolated and changed together, and one undo takes it back', async bench => {
  const { page, troubles } = await openApp(bench)
  page.setDefaultTimeout(40_000)
  await openText(page, 'many.json', writeDocument(manyRuns(COUNT)))
  await page.locator(`[role=grid][aria-rowcount="${COUNT}"]`).waitFor()
  await caughtUp(page)
  const opened = (await save(page)).text
  equal(read(opened).runs.length, COUNT, 'runs that were opened')
  await fewRows(page, 'at first')

  const list = page.getByRole('grid', { name: 'Runs' })
  await list.evaluate(e => e.scrollTo(0, e.scrollHeight / 2))
  await page.locator('[data-run="run501"]').waitFor()
  await fewRows(page, 'half way down')

  await rows(page).first().focus()
  await page.keyboard.press('End')
  await page.waitForFunction(() => document.activeElement?.getAttribute('data-run') === 'run1000')
  holds(await page.locator('[data-run="run1000"]').isVisible(), 'the last row is not in the page')
  await page.keyboard.press('Home')
  await page.keyboard.press('ArrowDown')
  equal(await focusedRun(page), 'run2', 'the run that has the focus after Home and down')
  equal(
    await page.locator('[aria-current="true"][role=row]').getAttribute('data-run'),
    'run2',
    'the run in hand',
  )
  await fewRows(page, 'after the keys')

  await page.keyboard.press('Shift+ArrowDown')
  await page.keyboard.press('Shift+ArrowDown')
  await page.keyboard.press('Shift+ArrowUp')
  holds((await pickedSay(page))?.startsWith('2 runs selected'), `picked by Shift: ${await pickedSay(page)}`)
  await page.keyboard.press('Escape')
  await page.keyboard.press(' ')
  holds((await pickedSay(page))?.startsWith('R-0003 selected'), `picked by Space: ${await pickedSay(page)}`)
  await page.locator('[data-run="run6"]').click({ modifiers: ['Control'] })
  await page.locator('[data-run="run8"]').click({ modifiers: ['Shift'] })
  holds(
    (await pickedSay(page))?.startsWith('3 runs selected'),
    `picked by the mouse: ${await pickedSay(page)}`,
  )
  await page.getByRole('checkbox', { name: 'Select R-0005' }).click()
  holds((await pickedSay(page))?.startsWith('4 runs selected'), `picked by the box: ${await pickedSay(page)}`)

  await page.getByRole('searchbox').fill('1.5 Drain')
  await page.waitForFunction(() =>
    / of 1000$/.test(document.querySelector('.run-panel .quiet')?.textContent ?? ''),
  )
  const wanted = manyRuns(COUNT).runs.filter(r => r.service === 'drain' && r.tube.od === 12)
  equal(await listSays(page), `${wanted.length} of ${COUNT}`, 'runs with both words')
  holds(
    (await pickedSay(page))?.includes('4 not in the list'),
    `of those out of sight: ${await pickedSay(page)}`,
  )
  await rows(page).first().focus()
  await page.keyboard.press('Control+a')
  holds(
    (await pickedSay(page))?.startsWith(`${wanted.length} runs selected`),
    `all: ${await pickedSay(page)}`,
  )

  const bar = page.getByRole('toolbar', { name: /^Actions for/ })
  await bar.getByRole('button', { name: 'Isolate' }).click()
  await page.getByRole('searchbox').fill('')
  await page.locator('[data-run="run1"].unseen').waitFor()
  await page.getByRole('button', { name: 'Show them again' }).click()
  await page.locator('[data-run="run1"]:not(.unseen)').waitFor()
  equal((await save(page)).text, opened, 'the file after picking and isolating')

  await bar.getByRole('button', { name: 'Change…' }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('checkbox', { name: 'Change Insulation', exact: true }).check()
  await dialog.getByRole('textbox', { name: 'New Insulation' }).fill('-2')
  await dialog.getByText('it must be 0 or more').waitFor()
  holds(await dialog.getByRole('button', { name: /^Change/ }).isDisabled(), 'a refused change can be made')
  await dialog.getByRole('textbox', { name: 'New Insulation' }).fill('10+5')
  const change = dialog.getByRole('button', { name: `Change ${wanted.length} runs` })
  await change.click()
  await dialog.waitFor({ state: 'hidden' })
  const after = read((await save(page)).text)
  const ids = new Set(wanted.map(r => r.id))
  holds(
    after.runs.every(r => r.insulation === (ids.has(r.id) ? 15 : 0)),
    'not exactly the picked runs have the insulation',
  )
  await page.keyboard.press('Control+z')
  equal((await save(page)).text, opened, 'the file after one undo')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('the list of runs, what is done with picked ones and their dialog have no accessibility faults', async bench => {
  const { page } = await openApp(bench)
  await openText(page, 'some.json', writeDocument(manyRuns(80)))
  await page.locator('[role=grid][aria-rowcount="80"]').waitFor()
  await page.getByRole('checkbox', { name: 'Select R-0001' }).click()
  await page.getByRole('checkbox', { name: 'Select R-0002' }).click()
  const faults = async (where: string) => {
    const { violations } = await new AxeBuilder({ page }).include(where).analyze()
    equal(
      violations.map(v => `${v.id}: ${v.nodes[0]?.html}`),
      [],
      `faults in ${where}`,
    )
  }
  await faults('.run-panel')
  await page.getByRole('button', { name: 'Change…' }).click()
  await page.getByRole('checkbox', { name: 'Change Size' }).check()
  await page.getByRole('combobox', { name: 'New Size' }).selectOption('')
  await faults('dialog')
  await page.keyboard.press('Escape')
  await page.getByRole('row').first().focus()
  await page.keyboard.press('Delete')
  await page.locator('[role=grid][aria-rowcount="78"]').waitFor()
  equal(await focusedRun(page), 'run3', 'the run that has the focus after two were deleted')
  await page.keyboard.press('Control+z')
  await page.locator('[role=grid][aria-rowcount="80"]').waitFor()
})
