import type { Locator, Page } from 'playwright-core'
import { equal, files } from './harness.ts'

/** Opens the dialog that takes tables in and gives it. */
export async function openImport(page: Page): Promise<Locator> {
  await files(page, 'Import a table')
  const dialog = page.getByRole('dialog', { name: 'Import a table' })
  await dialog.waitFor()
  return dialog
}

/** Hands the open dialog a file made of text. */
export async function chooseTable(page: Page, dialog: Locator, name: string, text: string): Promise<void> {
  const choose = dialog.getByRole('button', { name: /^(Choose a file|Another file)…$/ })
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), choose.click()])
  await chooser.setFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
  await dialog.getByText(name, { exact: true }).waitFor()
}

/** Waits until so many runs are in the list, with tags as the samples write them. */
export async function runsAre(page: Page, wanted: readonly string[]): Promise<void> {
  const runs = page.getByRole('region', { name: 'Runs' }).getByText(/^[A-Z]+-\d+$/)
  await page
    .waitForFunction(
      tags =>
        tags.every(t => document.querySelector('section[aria-label="Runs"]')?.textContent?.includes(t)) &&
        document.querySelector('dialog') === null,
      wanted,
      { polling: 100, timeout: 5000 },
    )
    .catch(() => {})
  equal(await runs.allTextContents(), wanted, 'runs in the list')
}
