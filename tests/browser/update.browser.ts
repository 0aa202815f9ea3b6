import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { allKept, type Bench, equal, holds, openApp, ready, test } from './harness.ts'

/** The app as it is served, until `renew` makes its next version of it: same files, another service worker. */
async function servedAnew(address: string): Promise<{ address: string; renew(): void; close(): void }> {
  let version = ''
  const server = createServer(async (request, response) => {
    const answer = await fetch(new URL(request.url ?? '/', address))
    const body = Buffer.from(await answer.arrayBuffer())
    const headers = Object.fromEntries(answer.headers)
    for (const name of ['content-length', 'etag', 'connection', 'keep-alive']) delete headers[name]
    response.writeHead(answer.status, headers)
    const isWorker = request.url?.endsWith('serviceWorker.js')
    response.end(isWorker ? Buffer.concat([body, Buffer.from(version)]) : body)
  })
  await new Promise<void>(done => server.listen(0, '127.0.0.1', done))
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    renew() {
      version = '\n// the next version'
    },
    close() {
      server.closeAllConnections()
      server.close()
    },
  }
}

test('a newer version waits for consent, and taking it keeps the work', async bench => {
  const served = await servedAnew(bench.address)
  try {
    const here: Bench = { ...bench, address: served.address }
    const { page, context, troubles } = await openApp(here)
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { polling: 100 })
    await page.reload()
    await ready(page)
    const name = page.getByRole('textbox', { name: 'Name of the skid' })
    await name.fill('Before the update')
    await name.press('Enter')
    await allKept(page)

    let loads = 0
    page.on('load', () => loads++)
    served.renew()
    await page.evaluate(async () => {
      await (await navigator.serviceWorker.getRegistration())?.update()
    })
    const take = page.getByRole('button', { name: 'Load it now' })
    await take.waitFor()
    await name.fill('While it waits')
    await name.press('Enter')
    await allKept(page)
    await page.waitForTimeout(1500)
    equal(loads, 0, 'loads without consent')
    holds(
      await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting !== null),
      'the newer version took over without consent',
    )

    await Promise.all([page.waitForEvent('load'), take.click()])
    await ready(page)
    equal(await name.inputValue(), 'While it waits', 'the name after the update')
    equal(await take.count(), 0, 'offers of an update that is there already')
    holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
    await context.close()
  } finally {
    served.close()
  }
})
