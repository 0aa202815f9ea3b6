import type { Page } from 'playwright-core'
import { equal, holds, openApp, test } from './harness.ts'

/** What the findings say, and every figure beside them. */
const said = (page: Page, where: string) => page.locator(where).allInnerTexts()

test('what findings say follows the unit: list, bending view, search and decision', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=cannot-be-made' })
  const inMm = await said(page, '.finding-text')
  holds(
    inMm.some(t => /is 10 mm too short for the bends/.test(t)),
    `in mm the list says ${inMm[0]}`,
  )
  for (const [button, reads] of [
    ['Decimal inches', /: 0\.3937 in missing/],
    ['Fractional inches', /: 13\/32 in missing/],
  ] as const) {
    await page.getByTitle(button).click()
    const texts = [...(await said(page, '.finding-text')), ...(await said(page, '.finding-figures'))]
    holds(
      texts.some(t => reads.test(t)),
      `in ${button} nothing reads like ${reads}`,
    )
    equal(
      texts.filter(t => / mm\b/.test(t)),
      [],
      `millimetres in the list in ${button}`,
    )
    // A button's name is what it says.
    await page.getByRole('button', { name: reads }).first().waitFor()
  }

  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  await page.getByText('straight 2 is 13/32 in too short for its bends').waitFor()
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page
    .getByRole('searchbox')
    .or(page.getByPlaceholder(/Search/))
    .first()
    .fill('13/32')
  const rows = page.locator('.review-row')
  await rows.first().click()
  const decision = page.locator('.review-decision')
  await decision
    .getByText(/13\/32 in too short/)
    .first()
    .waitFor()
  equal(/ mm\b/.test((await decision.textContent()) ?? ''), false, 'millimetres beside the decision')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
