import type { Page } from 'playwright-core'
import { equal, files, holds, openApp, savedText, test } from './harness.ts'
import { shownBends } from './story.ts'

async function importText(page: Page, entry: string, name: string, text: string): Promise<void> {
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), files(page, entry)])
  await chooser.setFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
}

const runs = (page: Page) => page.getByRole('region', { name: 'Runs' }).getByText(/^AE-\d+$/)

async function runsAre(page: Page, wanted: number): Promise<void> {
  await page.waitForFunction(
    n =>
      (document.querySelector('section[aria-label="Runs"]')?.textContent?.match(/AE-\d\d\d/g) ?? []).length >=
      n,
    wanted,
    { polling: 100 },
  )
  equal(await runs(page).count(), wanted, 'runs in the list')
}

test('points and bend rows leave as tables and come back as runs with the same bends', async bench => {
  const { page } = await openApp(bench)
  const bends = await shownBends(page)
  const points = await savedText(page, () => files(page, 'Points of this run as a table'))
  equal(points.name, 'AE-101-points.csv', 'name of the table of points')
  equal(points.text.split('\n')[0], 'x,y,z', 'header of the table of points')
  const rows = await savedText(page, () => files(page, 'Bend rows of this run as a table'))
  equal(rows.text.split('\n')[0], 'straight,rotation,angle', 'header of the bend rows')

  await importText(page, 'New run from a table of points', 'route.csv', points.text)
  await runsAre(page, 2)
  equal(await shownBends(page), bends, 'bends of the run made of points')
  await importText(page, 'New run from bend rows', 'rows.csv', rows.text)
  await runsAre(page, 3)
  equal(await shownBends(page), bends, 'bends of the run made of rows')
  await page.getByRole('button', { name: 'Undo' }).click()
  await runsAre(page, 2)
})

test('a damaged table is refused by row and column and makes no run', async bench => {
  const { page } = await openApp(bench)
  const damaged: [text: string, says: RegExp][] = [
    ['x,y,z\n0,0,0\n1,5,0,0\n', /row 3, column 4/],
    ['x,y,z\n0,0,0\n100,,0\n', /row 3, column 2.*nothing/],
    ['a,b,c\n1,2,3\n', /header x,y,z/],
    ['x,y,z\n0,0,0\n', /at least two/],
  ]
  for (const [text, says] of damaged) {
    await importText(page, 'New run from a table of points', 'bad.csv', text)
    const dialog = page.getByRole('dialog', { name: '“bad.csv” was not opened' })
    await dialog.waitFor()
    const words = (await dialog.textContent()) ?? ''
    holds(says.test(words), `the dialog says “${words}”, wanted ${says}`)
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })
  }
  await runsAre(page, 1)
})
