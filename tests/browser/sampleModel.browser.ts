import { equal, files, goOffline, holds, openApp, test } from './harness.ts'

const CLASH = 'DR-423 and Pump skid: Coupling guard'

test('a sample brings its model with it, offline too, and the model is measured', async bench => {
  const { page, context, troubles } = await openApp(bench)
  await goOffline({ page, context })
  await files(page, 'Samples')
  const dialog = page.getByRole('dialog', { name: 'Samples' })
  await dialog.getByText('Feed-pump skid').click()
  await page.getByText(CLASH).first().waitFor({ timeout: 45_000 })
  equal(await page.getByText('is missing').count(), 0, 'models that are not at hand')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
