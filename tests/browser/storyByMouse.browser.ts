import type { Page } from 'playwright-core'
import { equal, files, holds, openApp, openText, savedText, test } from './harness.ts'
import {
  findingsSay,
  nothingWrong,
  STORY,
  sameFigures,
  selectNothing,
  shownBends,
  solveByCommandLine,
} from './story.ts'

async function typeInto(page: Page, group: RegExp, values: readonly string[]): Promise<void> {
  for (const [i, part] of ['X', 'Y', 'Z'].entries()) {
    const value = values[i] ?? ''
    const field = page.getByRole('group', { name: group }).getByLabel(part, { exact: true })
    await field.click()
    await field.fill(value)
    await field.press('Enter')
  }
}

async function typeCell(page: Page, name: string, value: string): Promise<void> {
  await page.getByRole('gridcell', { name: new RegExp(`^${name}:`) }).dblclick()
  const input = page.getByRole('textbox', { name, exact: true })
  await input.fill(value)
  await input.press('Enter')
  await input.waitFor({ state: 'detached' })
}

test('a four-bend tube is routed by mouse, its short straight mended, saved, reopened, and solved alike by the command line', async bench => {
  const { page, troubles } = await openApp(bench)
  await files(page, 'New skid')
  for (const port of STORY.ports) {
    await page.getByRole('button', { name: 'Fitting', exact: true }).click()
    await page.getByLabel('Kind', { exact: true }).selectOption('Compression port, 6 mm tube')
    await typeInto(page, /^Centre of the port/, port.at)
    const axis = page.getByRole('textbox', { name: /^Axis/ })
    await axis.fill(port.axis.join(', '))
    await axis.press('Enter')
    await selectNothing(page)
  }
  await page.getByRole('region', { name: 'Runs' }).getByRole('button', { name: 'Run', exact: true }).click()
  await page.getByRole('button', { name: 'Add', exact: true }).click()
  const points = page.getByRole('grid', { name: /^Points of/ })
  while ((await points.locator('tbody tr').count()) < 6)
    await page.getByRole('button', { name: 'Insert a point after Point 2' }).click()
  for (const [i, point] of STORY.points.entries())
    for (const [c, value] of point.entries()) await typeCell(page, `Point ${i + 2}, ${'XYZ'[c]}`, value)

  await findingsSay(page, STORY.short)
  await typeCell(page, 'Point 5, X', STORY.mended)
  await nothingWrong(page)

  const shown = await shownBends(page)
  equal(shown.length, 5, 'rows of the bend table')
  const saved = await savedText(page, () => files(page, 'Save'))
  sameFigures(shown, await solveByCommandLine(saved.text))

  await files(page, 'New skid')
  await openText(page, saved.name, saved.text)
  await page.getByRole('grid', { name: /^Bends of/ }).waitFor()
  equal(await shownBends(page), shown, 'the reopened bend table')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
