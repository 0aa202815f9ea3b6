import type { Page } from 'playwright-core'
import { caughtUp, equal, files, holds, openApp, test } from './harness.ts'

/** Remembers the page's workers, so that a test can end one as the system would: without a word to the page. */
function rememberWorkers() {
  const made: { name: string; worker: Worker }[] = []
  Object.assign(window, { madeWorkers: made })
  window.Worker = class extends Worker {
    constructor(url: string | URL, options?: WorkerOptions) {
      super(url, options)
      made.push({ name: /(\w+Worker)/.exec(`${url}`)?.[1] ?? '', worker: this })
    }
  }
}
const endWorkers = (page: Page, name: string) =>
  page.evaluate(which => {
    const made = Reflect.get(window, 'madeWorkers') as { name: string; worker: Worker }[]
    const own = made.filter(m => m.name === which)
    for (const { worker } of own) worker.terminate()
    return own.length
  }, name)

const startOnly = async (bench: Parameters<typeof openApp>[0], page: Page, query: string) => {
  await page.goto(`${bench.address}?detail=plain&sample=${query}`)
  await page.locator('.said', { hasText: /open/i }).waitFor()
}
const notCheckedInReview = async (page: Page) =>
  Number(/(\d+) not checked/.exec((await page.locator('.review-counts').textContent()) ?? '')?.[1])

test('a worker whose file is not there is “not checked” in every list, and is started again by itself', async bench => {
  const context = await bench.browser.newContext({ viewport: { width: 1280, height: 800 } })
  const gone = /\/(clearance|housing)Worker-[^/]*\.js/
  await context.route(gone, route => route.fulfill({ status: 404, body: 'not found' }))
  const page = await context.newPage()
  await startOnly(bench, page, 'two-bends')
  const list = page.getByRole('region', { name: 'Findings', exact: true })
  await list
    .getByText(/Clearance of the whole skid is not checked: the worker could not be started/)
    .waitFor()
  await list.getByText(/Clearance from the bender, of 1 run, is not checked/).waitFor()
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.locator('.review-counts').waitFor()
  holds((await notCheckedInReview(page)) >= 2, 'the review counts fewer than two checks as not made')
  await page.locator('[data-finding="clearance:notChecked"]').waitFor()
  await context.unroute(gone)
  await caughtUp(page)
  equal(await notCheckedInReview(page), 0, 'not checked once the workers are there')
})

test('a worker that ends without a word is noticed, and the edit after it is checked', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs', before: rememberWorkers })
  for (const name of ['clearanceWorker', 'housingWorker'])
    equal(await endWorkers(page, name), 1, `workers made of ${name}`)
  await files(page, 'Samples')
  await page.getByRole('button', { name: /Water-sampling skid/ }).click()
  await page.locator('.said', { hasText: /Water-sampling/ }).waitFor()
  await caughtUp(page)
  equal(await endWorkers(page, 'clearanceWorker'), 2, 'workers made for clearance')
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Edited since')
  await name.press('Enter')
  await page.waitForFunction(() => document.title.startsWith('Edited since'), null, { polling: 50 })
  await caughtUp(page)
  equal(await endWorkers(page, 'clearanceWorker'), 3, 'workers made for clearance after the edit')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a worker that is ended in the middle of its work is asked again', async bench => {
  const { page } = await openApp(bench, { before: rememberWorkers })
  await files(page, 'Samples')
  await page.getByRole('button', { name: /Aeration panel/ }).click()
  await page.locator('.said', { hasText: /Aeration panel/ }).waitFor()
  await endWorkers(page, 'housingWorker')
  await endWorkers(page, 'clearanceWorker')
  await caughtUp(page)
})

test('where the browser makes no workers, laying out goes on and every check of theirs is “not checked”', async bench => {
  const context = await bench.browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  await page.addInitScript(() => {
    window.Worker = class {
      constructor() {
        throw new DOMException('workers are off', 'SecurityError')
      }
    } as unknown as typeof Worker
  })
  await startOnly(bench, page, 'two-bends')
  await page
    .getByText(/Clearance of the whole skid is not checked: the worker could not be started: workers are off/)
    .first()
    .waitFor()
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Without workers')
  await name.press('Enter')
  await page.locator('.saved', { hasText: /Saved in this browser at/ }).waitFor()
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.locator('.review-counts').waitFor()
  holds((await notCheckedInReview(page)) >= 2, 'the review counts fewer than two checks as not made')
})
