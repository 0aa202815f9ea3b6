import type { Page } from 'playwright-core'

/** Begins the run that the start page shows, once its checks are done; one that is not released by somebody's name. */
export async function startBending(page: Page, by = 'T. Tester'): Promise<void> {
  await page.getByRole('tab', { name: 'Run', exact: true }).click()
  await page.waitForFunction(() => document.querySelector('.bending-release.checking') === null, null, {
    polling: 100,
    // Every run of a skid is checked against its bender first, on a machine that may be busy.
    timeout: 90_000,
  })
  const isReleased = (await page.locator('.bending-release').count()) === 0
  await page.getByRole('button', { name: 'Start bending' }).click()
  if (!isReleased) {
    await page.getByRole('checkbox', { name: 'I have read this' }).check()
    await page.getByRole('textbox', { name: 'name of who continues' }).fill(by)
    await page.getByRole('button', { name: 'Start unreleased' }).click()
  }
  await page.locator('.bending-steps').waitFor()
}
