import { statSync } from 'node:fs'
import { resolve } from 'node:path'
import { launchBrowser } from './launchBrowser.ts'
import { serveDist } from './serveDist.ts'

/** Takes the README's picture of the built app: `tsx tests/browser/screenshot.ts [sample]`. */
const PICTURE = resolve(import.meta.dirname, '../../public/screenshot.png')
/** Heavier pictures make the repository heavy. Bytes. */
const HEAVIEST = 300 * 1024

const browser = await launchBrowser()
const served = await serveDist()
const page = await browser.newPage({ viewport: { width: 1280, height: 820 } })
await page.goto(`${served.address}?sample=${process.argv[2] ?? 'first-route'}`)
await page.getByRole('button', { name: 'Got it' }).click()
await page.waitForFunction(() => document.querySelector('.said')?.textContent?.includes('is open'), null, {
  polling: 100,
})
await page.getByRole('gridcell', { name: /^Point 4, Z/ }).click()
await page.waitForTimeout(2500)
await page.screenshot({ path: PICTURE })
await browser.close()
served.close()
const { size } = statSync(PICTURE)
console.log(`${PICTURE}: ${(size / 1024).toFixed(0)} kB`)
if (size > HEAVIEST) throw new Error(`The picture weighs ${size} bytes, wanted at most ${HEAVIEST}.`)
