import { holds, openApp, ready, test } from './harness.ts'

test('after the first visit the app opens without a network, the bench and the review included', async bench => {
  const { page, context, troubles } = await openApp(bench)
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { polling: 100 })
  await context.setOffline(true)
  await page.reload()
  await ready(page)
  await page.getByRole('button', { name: 'Bending' }).click()
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  await page.getByRole('button', { name: 'Reviewing' }).click()
  await page.getByRole('button', { name: 'Save list (CSV)' }).waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
