import type { Page } from 'playwright-core'
import { type Bench, equal, type Opened, openApp, test } from './harness.ts'
import { startBending } from './startBending.ts'

interface Watched {
  /** What was asked of the screen lock, in order. */
  readonly log: string[]
  /** Locks held now. */
  held: number
  refuse: boolean
  show(visible: boolean): void
}
declare global {
  interface Window {
    watched: Watched
  }
}

/** A screen lock that keeps account, in place of the browser's own, and a page that can be hidden. Runs in the page. */
function watchWakeLock(): void {
  let visible = true
  const locks = new Set<EventTarget & { released: boolean; drop(how: string): void }>()
  const watched: Watched = {
    log: [],
    held: 0,
    refuse: false,
    show(now) {
      visible = now
      // As the standard has it: a hidden page loses its locks before it is told.
      if (!now) for (const lock of [...locks]) lock.drop('dropped')
      document.dispatchEvent(new Event('visibilitychange'))
    },
  }
  Object.defineProperty(window, 'watched', { value: watched })
  Object.defineProperty(document, 'visibilityState', {
    // A method: the name that tsx keeps for an arrow function is not known in the page.
    get() {
      return visible ? 'visible' : 'hidden'
    },
  })
  Object.defineProperty(navigator, 'wakeLock', {
    value: {
      async request(type: string) {
        watched.log.push(`asked for ${type}`)
        if (watched.refuse) throw new DOMException('refused', 'NotAllowedError')
        const lock = Object.assign(new EventTarget(), {
          released: false,
          drop(how: string) {
            if (lock.released) return
            lock.released = true
            locks.delete(lock)
            watched.held = locks.size
            watched.log.push(how)
            lock.dispatchEvent(new Event('release'))
          },
          async release() {
            lock.drop('released')
          },
        })
        locks.add(lock)
        watched.held = locks.size
        return lock
      },
    },
  })
}

const DARK = 'The screen may switch off by itself.'

async function atFirstStep(bench: Bench): Promise<Opened> {
  const opened = await openApp(bench, { query: 'sample=two-bends&mode=bending', before: watchWakeLock })
  const start = opened.page.getByRole('button', { name: 'Start bending' })
  await start.waitFor()
  equal(await opened.page.evaluate(() => window.watched.log), [], 'asked before the first step')
  await startBending(opened.page)
  return opened
}

/** Waits until so many locks are held, then gives all that was asked so far. */
async function logWhenHeld(page: Page, held: number): Promise<string[]> {
  await page.waitForFunction(n => window.watched.held === n, held, { polling: 50, timeout: 5000 })
  return page.evaluate(() => window.watched.log)
}

test('the screen is kept awake from the first step, again after the page was hidden, and let go on leaving', async bench => {
  const { page } = await atFirstStep(bench)
  const log = ['asked for screen']
  equal(await logWhenHeld(page, 1), log, 'at the first step')
  await page.getByText(DARK).waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Done', exact: true }).click()
  equal(await logWhenHeld(page, 1), log, 'at the second step, the same lock')

  await page.evaluate(() => window.watched.show(false))
  log.push('dropped')
  equal(await logWhenHeld(page, 0), log, 'hidden: lost, and not asked for')
  await page.getByText(DARK).waitFor()
  await page.evaluate(() => window.watched.show(true))
  log.push('asked for screen')
  equal(await logWhenHeld(page, 1), log, 'shown again')
  await page.getByText(DARK).waitFor({ state: 'detached' })
  await page.evaluate(() => {
    window.watched.show(true)
    window.watched.show(true)
  })
  equal(await logWhenHeld(page, 1), log, 'told that it is shown while the lock is held')

  await page.getByRole('button', { name: 'Layout', exact: true }).click()
  log.push('released')
  equal(await logWhenHeld(page, 0), log, 'left')
  await page.evaluate(() => window.watched.show(true))
  equal(await logWhenHeld(page, 0), log, 'shown again after leaving')
})

test('a refused screen lock is said, and asked for again when the page is shown again', async bench => {
  const { page, troubles } = await atFirstStep(bench)
  await logWhenHeld(page, 1)
  await page.evaluate(() => {
    window.watched.refuse = true
    window.watched.show(false)
    window.watched.show(true)
  })
  await page.getByText(DARK).waitFor()
  await page.evaluate(() => {
    window.watched.refuse = false
    window.watched.show(true)
  })
  await logWhenHeld(page, 1)
  await page.getByText(DARK).waitFor({ state: 'detached' })
  equal(troubles, [], 'what the page threw')
})
