import { equal, files, openApp, savedText, test } from './harness.ts'
import { chooseTable, openImport, runsAre } from './importTable.ts'
import { shownBends } from './story.ts'

test('points and bend rows leave as tables and come back as runs with the same bends', async bench => {
  const { page } = await openApp(bench)
  const bends = await shownBends(page)
  const points = await savedText(page, () => files(page, 'Points of this run as a table'))
  equal(points.name, 'AE-101-points.csv', 'name of the table of points')
  equal(points.text.split('\n')[0], 'x,y,z', 'header of the table of points')
  const rows = await savedText(page, () => files(page, 'Bend rows of this run as a table'))
  equal(rows.text.split('\n')[0], 'straight,rotation,angle', 'header of the bend rows')

  for (const [name, text, tags] of [
    ['route.csv', points.text, ['AE-101', 'AE-102']],
    ['rows.csv', rows.text, ['AE-101', 'AE-102', 'AE-103']],
  ] as const) {
    const dialog = await openImport(page)
    await chooseTable(page, dialog, name, text)
    await dialog.getByRole('button', { name: 'Add one run' }).click()
    await runsAre(page, tags)
    equal(await shownBends(page), bends, `bends of the run made of ${name}`)
  }
  await page.getByRole('button', { name: 'Undo' }).click()
  await runsAre(page, ['AE-101', 'AE-102'])
})

test('a damaged table is refused, the reason stands at its cell, and no run is made', async bench => {
  const { page } = await openApp(bench)
  const dialog = await openImport(page)
  const add = dialog.getByRole('button', { name: 'Add one run' })
  const damaged: [text: string, at: { row: number; cell: number } | 'general' | 'state', says: RegExp][] = [
    ['x,y,z\n0,0,0\n1,5,0,0\n', { row: 3, cell: 4 }, /wanted 3 columns/],
    ['x,y,z\n0,0,0\n100,,0\n', { row: 3, cell: 2 }, /found nothing, wanted a number/],
    ['x,y,z\n0,0,0\n100,about 5,0\n', { row: 3, cell: 2 }, /"about" is not a unit/],
    ['x,y\n0,0\n100,0\n', 'general', /No column is the Z/],
    ['x,y,z\n', 'general', /no rows; wanted at least one row/],
    ['x,y,z\n0,0,0\n', 'state', /Row 2 is a route of one point/],
  ]
  for (const [text, at, says] of damaged) {
    await chooseTable(page, dialog, 'bad.csv', text)
    const place =
      at === 'general'
        ? dialog.getByRole('alert')
        : at === 'state'
          ? dialog.getByRole('status')
          : dialog
              .locator('tbody tr', { has: page.getByRole('rowheader', { name: `${at.row}`, exact: true }) })
              .locator(`td:nth-of-type(${at.cell + 1}) .cellFault`)
    // The table before has the same name: its words stand until this one is read.
    await place
      .filter({ hasText: says })
      .first()
      .waitFor()
      .catch(async () => {
        const words = await place.allTextContents()
        throw new Error(`for ${JSON.stringify(text)} it says “${words.join(' ')}”, wanted ${says}`)
      })
    equal(await add.isDisabled(), true, `“Add one run” is off for ${JSON.stringify(text)}`)
  }
  await chooseTable(page, dialog, 'good.csv', 'x,y,z\n0,0,0\n100,0,0\n')
  await dialog.locator('button:enabled', { hasText: 'Add one run' }).waitFor()
  await page.keyboard.press('Escape')
  await runsAre(page, ['AE-101'])
})
