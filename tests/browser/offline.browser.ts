import { goOffline, holds, openApp, test } from './harness.ts'

test('after the first visit the app opens without a network, the bench and the review included', async bench => {
  const { page, context, troubles } = await openApp(bench)
  await goOffline({ page, context })
  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  await page.getByRole('button', { name: 'Start bending' }).waitFor()
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.getByRole('button', { name: 'Save list (CSV)' }).waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
