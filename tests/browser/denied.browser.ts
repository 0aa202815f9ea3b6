import type { Page } from 'playwright-core'
import { allKept, caughtUp, equal, holds, openApp, savedText, test } from './harness.ts'

/** Every use of this storage throws, as where a person has switched it off. */
function denyStorage() {
  for (const name of ['localStorage', 'sessionStorage'])
    Object.defineProperty(window, name, {
      get() {
        throw new DOMException('Access is denied for this document.', 'SecurityError')
      },
    })
}
function fillStorage() {
  Storage.prototype.setItem = () => {
    throw new DOMException('no room', 'QuotaExceededError')
  }
}

async function acceptFirst(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page
    .getByRole('option', { name: /straight/ })
    .first()
    .click()
  const form = page.locator('.review-decision form')
  const category = form.getByRole('combobox').or(form.getByRole('radio')).first()
  if ((await category.getAttribute('type')) === 'radio') await category.check()
  else await category.selectOption({ index: 1 })
  await form.getByLabel('Reason').fill('Will be cut by hand')
  await form.getByLabel('Name').fill('R. Tester')
  await form.getByRole('button', { name: 'Accept this finding' }).click()
}

for (const [title, before, why] of [
  ['denied', denyStorage, 'the browser refuses storage'],
  ['full', fillStorage, 'the browser’s storage is full'],
] as const)
  test(`where the browser’s small storage is ${title}, a finding can be accepted and a view saved, and it is said what is not kept`, async bench => {
    const { page, troubles } = await openApp(bench, { before })
    await acceptFirst(page)
    await page.locator('.said', { hasText: `Your name is not remembered: ${why}` }).waitFor()
    await page.locator('.review-counts', { hasText: '1 accepted' }).waitFor()
    await page.getByRole('button', { name: /^Saved views/ }).click()
    await page.getByRole('button', { name: /Save this view/ }).click()
    const by = page.getByRole('textbox', { name: 'By', exact: true })
    equal(await by.inputValue(), 'R. Tester', 'the name on the saved view, as it was given for the decision')
    holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
  })

test('a view that fails leaves the document, undo, saving and the other views alive', async bench => {
  const { page } = await openApp(bench, {
    before: () => {
      const { observe } = ResizeObserver.prototype
      ResizeObserver.prototype.observe = function (target, options) {
        if (Reflect.get(window, 'broken')) throw new Error('the observer is broken')
        observe.call(this, target, options)
      }
    },
  })
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Before the fault')
  await name.press('Enter')
  await page.evaluate('window.broken = true')
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  const alert = page.getByRole('alert').filter({ hasText: 'Review stopped' })
  await alert.getByText('the observer is broken').waitFor()
  const { text } = await savedText(page, () =>
    alert.getByRole('button', { name: 'Download the skid' }).click(),
  )
  equal((JSON.parse(text) as { name: string }).name, 'Before the fault', 'the download')
  await alert.getByRole('button', { name: 'Try again' }).click()
  await alert.waitFor()
  await name.fill('Edited meanwhile')
  await name.press('Enter')
  await allKept(page)
  await alert.waitFor()
  await page.evaluate('window.broken = false')
  // Any change tries the view again, undo too.
  await page.getByRole('button', { name: /^Undo/ }).click()
  await page.locator('.review-counts').waitFor()
  equal(await name.inputValue(), 'Before the fault', 'the name after undo')
  await page.getByRole('button', { name: 'Layout', exact: true }).click()
  await caughtUp(page)
})

test('a view whose file cannot be fetched says so, and is fetched when it is tried again', async bench => {
  // The app's own store for use offline would have the file.
  const context = await bench.browser.newContext({ serviceWorkers: 'block' })
  const { page } = await openApp(bench, { context })
  const file = /\/ReviewingView-[^/]*\.js/
  await context.route(file, route => route.abort())
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  const alert = page.getByRole('alert').filter({ hasText: 'Review stopped' })
  await alert.waitFor()
  await context.unroute(file)
  await alert.getByRole('button', { name: 'Try again' }).click()
  await page.locator('.review-counts').waitFor()
})
