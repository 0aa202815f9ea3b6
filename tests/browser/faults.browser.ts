import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { BrowserContext, Page } from 'playwright-core'
import { equal, files, holds, openApp, savedText, test } from './harness.ts'
import { launchWithProfile } from './launchBrowser.ts'

const FIRST = readFileSync(resolve(import.meta.dirname, '../../sample-routes/first-route.json'), 'utf8')
/** The sample as a file would hold it after nothing but its name was changed. */
const named = (name: string) => FIRST.replace('"name": "Blower to manifold"', `"name": "${name}"`)

async function rename(page: Page, to: string): Promise<void> {
  const field = page.getByRole('textbox', { name: 'Name of the skid' })
  await field.fill(to)
  await field.press('Enter')
}

test('when the storage is full editing goes on, a download holds the last edit, and keeping resumes by itself', async bench => {
  const context = await bench.browser.newContext({ acceptDownloads: true })
  // Before the first write: Chromium asks for the room once and counts on it for half a minute.
  const session = await context.newCDPSession(await context.newPage())
  const origin = new URL(bench.address).origin
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 })
  const { page } = await openApp(bench, { context })
  await rename(page, 'No room')
  await page.locator('.saved', { hasText: 'Not saved: the browser’s storage is full' }).waitFor()
  await page.locator('.said', { hasText: 'You can work on, but changes are not saved' }).waitFor()
  await rename(page, 'No room still')
  const { text } = await savedText(page, () =>
    page.getByRole('button', { name: 'Download the skid' }).click(),
  )
  equal(text, named('No room still'), 'the download')

  await session.send('Storage.overrideQuotaForOrigin', { origin })
  await page.locator('.said', { hasText: /^Saved in this browser again, at \d/ }).waitFor()
  await page.locator('.saved', { hasText: /Saved in this browser at \d/ }).waitFor()
  holds(
    (await page.getByRole('button', { name: 'Download the skid' }).count()) === 0,
    'a download is still asked for',
  )
  await page.close()
  const again = await openApp(bench, { context })
  const kept = await savedText(again.page, () => files(again.page, 'Save'))
  equal(kept.text, named('No room still'), 'what is kept after room came back')
})

/** Ends every process of the browser at once, as a power cut or the system's memory killer would. */
async function killAll(context: BrowserContext): Promise<void> {
  const browser = context.browser()
  holds(browser, 'a browser with a profile does not say which browser it is')
  const session = await browser.newBrowserCDPSession()
  const { processInfo } = await session.send('SystemInfo.getProcessInfo')
  holds(
    processInfo.some(p => p.type === 'browser'),
    'the browser does not name its processes',
  )
  const closed = new Promise<void>(done => context.once('close', () => done()))
  for (const { id } of processInfo) {
    try {
      process.kill(id, 'SIGKILL')
    } catch (error) {
      // The others end by themselves once the browser's own process is gone.
      if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error
    }
  }
  await closed
}

// Kept means: the browser answered a write of durability 'strict', for which Chromium flushes its files. That the
// flushed bytes outlive the machine's own power cut is the system's and the disk's matter, and is not tried here.
test('when the whole browser is killed 400 ms after an edit, the edit is there byte for byte', async bench => {
  const profile = mkdtempSync(join(tmpdir(), 'dogleg-profile-'))
  let context: BrowserContext | undefined
  try {
    context = await launchWithProfile(profile)
    const { page } = await openApp(bench, { context })
    for (const name of ['One', 'Two', 'Killed after this']) await rename(page, name)
    await page.waitForTimeout(400)
    await killAll(context)

    context = await launchWithProfile(profile)
    const again = await openApp(bench, { context })
    const { text } = await savedText(again.page, () => files(again.page, 'Save'))
    equal(text, named('Killed after this'), 'the document after the browser was killed')
  } finally {
    await context?.close().catch(() => {})
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
  }
})
