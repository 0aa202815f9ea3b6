import type { BrowserContext, Page } from 'playwright-core'
import { fewRunsText } from './fewRuns.ts'
import { type Bench, caughtUp, openApp, openText } from './harness.ts'

/** The app with the seven runs of {@link fewRunsText} open and checked to the end. */
export async function openFew(bench: Bench, context?: BrowserContext): Promise<Page> {
  const { page } = await openApp(bench, { query: 'sample=two-bends', ...(context ? { context } : {}) })
  await openText(page, 'seven.json', fewRunsText())
  await page.locator('[role=row][data-run="r7"]').waitFor()
  await caughtUp(page)
  return page
}
