import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { holds, openApp, test } from './harness.ts'
import { DIST } from './serveDist.ts'

/** What the first view may weigh, gzipped. Bytes; the project's own aim. */
const FIRST_VIEW = 420 * 1024

test('the first view needs at most 420 kB gzipped, and nothing from anywhere else', async bench => {
  const asked: string[] = []
  const context = await bench.browser.newContext()
  let storedAway = 0
  context.on('request', request => {
    // What the service worker fetches for later use is not waited for by anyone.
    if (request.serviceWorker()) storedAway++
    else asked.push(request.url())
  })
  await openApp(bench, { context })
  const strangers = asked.filter(url => !url.startsWith(bench.address) && !/^(blob|data):/.test(url))
  holds(strangers.length === 0, `the page asked for ${strangers.join(', ')}`)
  const own = new Set(asked.filter(url => url.startsWith(bench.address)).map(url => new URL(url).pathname))
  let bytes = 0
  for (const path of own)
    bytes += gzipSync(readFileSync(join(DIST, path.endsWith('/') ? `${path}index.html` : path))).length
  console.log(
    `        first view: ${(bytes / 1024).toFixed(1)} kB gz in ${own.size} files (${storedAway} more stored away for use offline)`,
  )
  holds(bytes <= FIRST_VIEW, `the first view weighs ${bytes} bytes gzipped, wanted at most ${FIRST_VIEW}`)
})

/** Remembers every program for drawing that the page makes: three itself asks after none of them in the built app. */
function rememberPrograms() {
  const { linkProgram } = WebGL2RenderingContext.prototype
  const failed: (() => string | null)[] = []
  Object.assign(window, { programs: failed })
  WebGL2RenderingContext.prototype.linkProgram = function (program) {
    linkProgram.call(this, program)
    failed.push(() =>
      this.getProgramParameter(program, this.LINK_STATUS) ? null : this.getProgramInfoLog(program),
    )
  }
}

test('every program of the first view links, whatever was left out of the library', async bench => {
  const { page } = await openApp(bench, { before: rememberPrograms })
  await page.waitForFunction('window.programs.length > 2', null, { polling: 100 })
  const told = await page.evaluate<(string | null)[]>('window.programs.map(ask => ask())')
  holds(
    told.every(t => t === null),
    `of ${told.length} programs some do not link: ${told.filter(t => t !== null).join(' | ')}`,
  )
})

test('the first visit opens a sample with its tube solved and one hint, without an error', async bench => {
  const { page, troubles } = await openApp(bench)
  holds(await page.getByText('Blower to manifold').count(), 'the first sample’s name is not on screen')
  const name = await page.getByRole('textbox', { name: 'Name of the skid' }).inputValue()
  holds(name === 'Blower to manifold', `the document is called ${name}`)
  await page.getByRole('button', { name: 'Got it' }).click()
  await page.reload()
  await page.getByRole('textbox', { name: 'Name of the skid' }).waitFor()
  holds(
    (await page.getByRole('button', { name: 'Got it' }).count()) === 0,
    'the hint came back after it was read',
  )
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
