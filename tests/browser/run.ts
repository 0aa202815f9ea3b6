import { chromium } from 'playwright-core'
import { findBrowser } from './findBrowser.ts'
import { runTests } from './harness.ts'
import { serveDist } from './serveDist.ts'

await import('./firstView.browser.ts')
await import('./shell.browser.ts')
await import('./files.browser.ts')
await import('./autosave.browser.ts')
await import('./storyByMouse.browser.ts')
await import('./storyByKeys.browser.ts')

const browser = await chromium.launch({
  executablePath: findBrowser(),
  headless: false,
  args: [
    '--headless=new',
    '--no-sandbox',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--use-angle=swiftshader',
    '--enable-unsafe-swiftshader',
  ],
})
const served = await serveDist()
try {
  const failed = await runTests({ browser, address: served.address }, process.argv[2] ?? '')
  process.exitCode = failed > 0 ? 1 : 0
} finally {
  await browser.close()
  served.close()
}
