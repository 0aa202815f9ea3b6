import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { readDocument } from '../../src/document/readDocument.ts'
import { benchRun } from '../../src/outputs/benchLayout.ts'
import { runCode } from '../../src/outputs/runCode.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { allKept, caughtUp, equal, holds, openApp, test } from './harness.ts'
import { startBending } from './startBending.ts'

/** The code that a sheet of this run, printed by the command line, has on it. */
function codeOf(sample: string, tag?: string): { code: string; tag: string } {
  const read = readDocument(readFileSync(`sample-routes/${sample}.json`, 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  const solved = solveDocument(read.document).find(s => tag === undefined || s.tag === tag)
  holds(solved, `${sample} has no run ${tag}`)
  return { code: runCode(benchRun(read.document, solved), solved), tag: solved.tag }
}
/** As a camera does that has read the mark on paper: the page is opened at the address. */
async function scan(page: Page, address: string, code: string, query = ''): Promise<void> {
  await page.goto(`${address}?detail=plain&scan=${Math.random()}${query}#sheet=${code}`)
}

test('the code of a sheet opens the bending view of its very run', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  const { code, tag } = codeOf('thirty-runs', 'AF-203')
  await scan(page, bench.address, code, '&sample=thirty-runs')
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  await page.getByText(`${tag}: the sheet and the screen agree.`).first().waitFor()
  equal(
    await page.locator('.bending-start select option:checked').first().textContent(),
    `${tag} · algae feed`,
    'the run',
  )
  equal(troubles, [], 'the page complained')
})

test('a sheet older than the run stands before step 1 until someone decides', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  const { code, tag } = codeOf('first-route')
  const straight = page
    .getByRole('toolbar', { name: /unrolled/ })
    .getByRole('button', { name: /^Straight 2 of \d+:/ })
  await straight.focus()
  await page.keyboard.press('Enter')
  await page.getByRole('textbox', { name: 'Straight 2' }).waitFor()
  await page.keyboard.type('211')
  await page.keyboard.press('Enter')
  await caughtUp(page)
  await allKept(page)
  await scan(page, bench.address, code)
  await page.getByRole('heading', { name: `${tag} was changed since this sheet was printed` }).waitFor()
  holds(
    (await page.getByRole('button', { name: 'Start bending' }).count()) === 0,
    'the steps can be begun by an old sheet',
  )
  await page.getByRole('button', { name: 'Use the screen' }).press('Enter')
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  equal(troubles, [], 'the page complained')
})

test('a code of no run at hand says so and starts nothing', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await scan(page, bench.address, '2345-6789-ABCD', '&sample=two-bends')
  await page.getByText(/No run with the code “2345-6789-ABCD”/).waitFor()
  await page.getByRole('button', { name: 'Layout', exact: true, pressed: true }).waitFor()
  // Typed in the bending view, the same answer stands beside the field.
  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  await page.getByLabel('code on the sheet').fill('2345 6789 abce')
  await page.keyboard.press('Enter')
  await page
    .locator('.sheet-code output')
    .getByText(/No run with the code/)
    .waitFor()
})

test('the order of the bends comes with the code: taken up at once, asked about when a piece is in work', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await caughtUp(page)
  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  const used = page
    .getByRole('region', { name: 'Order of the bends' })
    .getByRole('row')
    .filter({ hasText: '✓ used' })
  // With end A leading it hits the bench top: what a sheet printed now has is what is in use.
  await used.getByText('B 4 3 2 1', { exact: true }).waitFor()
  const { code, tag } = codeOf('first-route')
  equal(
    await page.getByLabel('code on the sheet').getAttribute('placeholder'),
    `${code}-B`,
    'the code of this order',
  )

  await page.getByLabel('code on the sheet').fill(code)
  await page.keyboard.press('Enter')
  await used.getByText('A 1 2 3 4', { exact: true }).waitFor()
  await startBending(page)

  await page.getByRole('button', { name: 'Layout', exact: true }).click()
  await scan(page, bench.address, `${code}-B`)
  await page.getByRole('heading', { name: `${tag}: this sheet bends in another order` }).waitFor()
  await page.getByText('B 4 3 2 1').waitFor()
  await page.getByRole('button', { name: 'Continue the piece in progress' }).click()
  await page.getByRole('heading', { name: 'Cut the stock' }).waitFor()

  await scan(page, bench.address, `${code}-B`)
  await page.getByRole('button', { name: 'New piece, as on the sheet' }).press('Enter')
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  await used.getByText('B 4 3 2 1', { exact: true }).waitFor()
  equal(troubles, [], 'the page complained')
})
