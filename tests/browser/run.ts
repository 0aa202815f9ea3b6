import { runTests } from './harness.ts'
import { launchBrowser } from './launchBrowser.ts'
import { serveDist } from './serveDist.ts'

await import('./firstView.browser.ts')
await import('./shell.browser.ts')
await import('./files.browser.ts')
await import('./tables.browser.ts')
await import('./import.browser.ts')
await import('./panels.browser.ts')
await import('./contrast.browser.ts')
await import('./access.browser.ts')
await import('./lighting.browser.ts')
await import('./layingOut.browser.ts')
await import('./autosave.browser.ts')
await import('./workers.browser.ts')
await import('./denied.browser.ts')
await import('./offline.browser.ts')
await import('./serving.browser.ts')
await import('./faults.browser.ts')
await import('./fileAccess.browser.ts')
await import('./nothingLeaves.browser.ts')
await import('./update.browser.ts')
await import('./textIsText.browser.ts')
await import('./paper.browser.ts')
await import('./cutList.browser.ts')
await import('./report.browser.ts')
await import('./compare.browser.ts')
await import('./shareLink.browser.ts')
await import('./scene.browser.ts')
await import('./byPointing.browser.ts')
await import('./manyRuns.browser.ts')
await import('./review.browser.ts')
await import('./longNames.browser.ts')
await import('./sentences.browser.ts')
await import('./bending.browser.ts')
await import('./bendingPages.browser.ts')
await import('./sheetCode.browser.ts')
await import('./supports.browser.ts')
await import('./exempt.browser.ts')
await import('./wake.browser.ts')
await import('./models.browser.ts')
await import('./modelParts.browser.ts')
await import('./sampleModel.browser.ts')
await import('./mend.browser.ts')
await import('./scale.browser.ts')
await import('./storyOfReview.browser.ts')
await import('./storyByMouse.browser.ts')
await import('./storyByKeys.browser.ts')

/** Two at a time: a test waits as much as it works, and the machines that run them have two cores. */
const AT_ONCE = 2

const browsers = await Promise.all(Array.from({ length: AT_ONCE }, () => launchBrowser()))
const served = await serveDist()
try {
  const failed = await runTests(
    browsers.map(browser => ({ browser, address: served.address })),
    process.argv[2] ?? '',
  )
  process.exitCode = failed > 0 ? 1 : 0
} finally {
  await Promise.all(browsers.map(browser => browser.close()))
  served.close()
}
