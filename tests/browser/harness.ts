import type { Browser, BrowserContext, Page } from 'playwright-core'

export interface Bench {
  readonly browser: Browser
  /** Where the app is served, ending in a slash. */
  readonly address: string
}
interface BrowserTest {
  readonly name: string
  readonly run: (bench: Bench) => Promise<void>
}

const tests: BrowserTest[] = []

/** Adds a test; its name is a sentence. */
export const test = (name: string, run: (bench: Bench) => Promise<void>): void => {
  tests.push({ name, run })
}

/** Longest one test may take: far more than any needs, for a machine may be slow and busy. Milliseconds. */
const TEST_MS = 180_000

/**
 * Runs all tests whose name has `only` in it, each in the first of the browsers that is free; prints each and the
 * closing line. What failed beside another test is run once more by itself: a machine that is too busy for two is no
 * fault of the app. It is told in the closing line all the same. Gives how many failed by themselves too.
 */
export async function runTests(benches: readonly Bench[], only: string): Promise<number> {
  const chosen = tests.filter(t => t.name.includes(only))
  const waiting = [...chosen]
  const failedBeside: BrowserTest[] = []
  const inTurn = async (bench: Bench) => {
    for (let next = waiting.shift(); next; next = waiting.shift())
      if (!(await passes(next, bench))) failedBeside.push(next)
  }
  await Promise.all(benches.map(inTurn))
  if (failedBeside.length > 0) console.log('Once more, with nothing beside them:')
  const failed: BrowserTest[] = []
  for (const again of failedBeside) if (benches[0] && !(await passes(again, benches[0]))) failed.push(again)
  const onlyAlone = failedBeside.filter(t => !failed.includes(t)).map(t => `“${t.name}”`)
  const told = onlyAlone.length > 0 ? `, of these only when alone: ${onlyAlone.join(', ')}` : ''
  console.log(`${chosen.length - failed.length} passed${told}; ${failed.length} failed`)
  return chosen.length === 0 ? 1 : failed.length
}

async function passes({ name, run }: BrowserTest, bench: Bench): Promise<boolean> {
  const started = Date.now()
  let timer: ReturnType<typeof setTimeout> | undefined
  try {
    await Promise.race([
      run(bench),
      new Promise<never>((_, reject) => {
        timer = setTimeout(() => reject(new Error(`took longer than ${TEST_MS / 1000} s`)), TEST_MS)
      }),
    ])
    console.log(`  ok    ${name} (${((Date.now() - started) / 1000).toFixed(1)} s)`)
    return true
  } catch (error) {
    console.log(`  FAIL  ${name}\n${(error as Error).stack ?? error}`)
    for (const context of bench.browser.contexts())
      for (const page of context.pages()) console.log(`        on screen: ${await whatIsShown(page)}`)
    return false
  } finally {
    clearTimeout(timer)
    for (const context of bench.browser.contexts()) await context.close().catch(() => {})
  }
}

/** What the page says of itself, for whoever reads of a failure on a machine that is not at hand. */
const whatIsShown = (page: Page): Promise<string> =>
  Promise.race([
    page.evaluate(() => {
      const [dialog, said, status] = ['dialog[open]', '.said', '.statusLine'].map(
        selector =>
          document.querySelector(selector)?.textContent.replace(/\s+/g, ' ').slice(0, 200) ?? 'none',
      )
      const { activeElement } = document
      const focus = activeElement?.getAttribute('aria-label') ?? activeElement?.tagName
      return `dialog: ${dialog}; said: ${said}; status: ${status}; focus: ${focus}`
    }),
    new Promise<string>(resolve => setTimeout(() => resolve('no answer within 5 s'), 5_000)),
  ]).catch((error: unknown) => `not known (${(error as Error).message})`)

export interface Opened {
  readonly context: BrowserContext
  readonly page: Page
  /** What the page threw or wrote as errors so far. */
  readonly troubles: string[]
}

export interface OpenOptions {
  /** Query besides `detail=plain`, as in `sample=two-bends`. */
  readonly query?: string
  readonly colorScheme?: 'light' | 'dark'
  readonly context?: BrowserContext
  /** Runs in the page before the app does. */
  readonly before?: () => void
}

/** A fresh visitor's page with the app loaded and its first document solved, drawn in plain detail. */
export async function openApp(bench: Bench, options: OpenOptions = {}): Promise<Opened> {
  const context =
    options.context ??
    (await bench.browser.newContext({
      viewport: { width: 1280, height: 800 },
      acceptDownloads: true,
      colorScheme: options.colorScheme ?? 'light',
    }))
  context.setDefaultTimeout(15_000)
  const page = await context.newPage()
  const troubles: string[] = []
  page.on('pageerror', error => troubles.push(`${error.name}: ${error.message}`))
  page.on('console', message => {
    if (message.type() === 'error') troubles.push(message.text())
  })
  // A test cannot answer the system's own file picker: without it the app uses an input and a download.
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showOpenFilePicker')
    Reflect.deleteProperty(window, 'showSaveFilePicker')
  })
  // Asked for only when a test waits for it, the taking over of file choosers may come after the key that opens one:
  // the browser then answers that one with its own “cancelled”.
  page.on('filechooser', () => {})
  // What runs these tests keeps the names of functions by a helper that the page does not have.
  await page.addInitScript('globalThis.__name = f => f')
  if (options.before) await page.addInitScript(options.before)
  await page.goto(`${bench.address}?detail=plain${options.query ? `&${options.query}` : ''}`)
  await ready(page)
  return { context, page, troubles }
}

/** Waits until a document is on screen and checked to the end: the status line has said so. */
export async function ready(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      /open|kept|saved/i.test(document.querySelector('.said')?.textContent ?? '') &&
      document.querySelector('.statusLine [data-up-to-date=true]') !== null,
    null,
    {
      polling: 100,
    },
  )
}

/** Cuts the network once everything is stored away for it, and loads the page anew. */
export async function goOffline({ page, context }: Pick<Opened, 'page' | 'context'>): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { polling: 100 })
  await context.setOffline(true)
  await page.reload()
  await ready(page)
}

/** Waits until every list shows what the picture shows and every check of it is done. */
export async function caughtUp(page: Page): Promise<void> {
  await page.locator('.statusLine [data-up-to-date=true]').waitFor()
}

/** Waits until the status bar says that everything is kept. */
export async function allKept(page: Page): Promise<void> {
  await page.waitForFunction(
    () => /saved in this browser/i.test(document.querySelector('.saved')?.textContent ?? ''),
    null,
    { polling: 50 },
  )
}

/** @throws Error with both values when they differ. */
export function equal(found: unknown, wanted: unknown, what: string): void {
  const [f, w] = [JSON.stringify(found), JSON.stringify(wanted)]
  if (f !== w) throw new Error(`${what}: found ${f}, wanted ${w}`)
}

export function holds(condition: unknown, what: string): asserts condition {
  if (!condition) throw new Error(what)
}

/** Opens an entry of the Files menu. */
export async function files(page: Page, entry: string): Promise<void> {
  await page.getByRole('button', { name: 'Files' }).click()
  await page.getByRole('menuitem', { name: new RegExp(`^${entry}…?$`) }).click()
}

/** Opens a file from text through the file field. */
export async function openText(page: Page, name: string, text: string): Promise<void> {
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), files(page, 'Open a file')])
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
}

/** What Save hands over: the file's name and text. */
export async function savedText(
  page: Page,
  save: () => Promise<void>,
): Promise<{ name: string; text: string }> {
  const [download] = await Promise.all([page.waitForEvent('download'), save()])
  const stream = await download.createReadStream()
  const parts: Buffer[] = []
  for await (const part of stream) parts.push(part as Buffer)
  return { name: download.suggestedFilename(), text: Buffer.concat(parts).toString('utf8') }
}
