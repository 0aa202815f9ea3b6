import { equal, files, holds, openApp, ready, test } from './harness.ts'

const CLASH = 'DR-423 and Pump skid: Coupling guard'

test('a sample brings its model with it, offline too, and the model is measured', async bench => {
  const { page, context, troubles } = await openApp(bench)
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { polling: 100 })
  await context.setOffline(true)
  await page.reload()
  await ready(page)
  await files(page, 'Samples')
  const dialog = page.getByRole('dialog', { name: 'Samples' })
  await dialog.getByText('Feed-pump skid').click()
  await page.getByText(CLASH).first().waitFor({ timeout: 45_000 })
  equal(await page.getByText('is not at hand').count(), 0, 'models that are not at hand')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
