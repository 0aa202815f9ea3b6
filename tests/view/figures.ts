import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { readDocument } from '../../src/document/readDocument.ts'
import { openApp } from '../browser/harness.ts'
import { launchBrowser } from '../browser/launchBrowser.ts'
import { serveDist } from '../browser/serveDist.ts'
import type { Figure } from '../measure/figure.ts'
import { scaleFigures } from './scaleFigures.ts'

function thirtyRuns() {
  const read = readDocument(readFileSync('sample-routes/thirty-runs.json', 'utf8'))
  if (!read.ok) throw new Error(read.errors[0]!.message)
  return read.document
}

/** Median milliseconds between drawn frames while `gesture` goes on. */
async function frameTime(page: Page, gesture: () => Promise<void>): Promise<number> {
  // As text: what the compiler adds to a function does not exist in the page.
  await page.evaluate(`
    window.frameTimes = []
    window.framesWanted = true
    requestAnimationFrame(function tick(at) {
      window.frameTimes.push(at)
      if (window.framesWanted) requestAnimationFrame(tick)
    })
  `)
  await gesture()
  const times = await page.evaluate<number[]>('window.framesWanted = false, window.frameTimes')
  const gaps = times
    .slice(1)
    .map((t, i) => t - times[i]!)
    .sort((a, b) => a - b)
  return gaps[Math.floor(gaps.length / 2)] ?? Number.NaN
}

async function dragged(page: Page, from: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  for (let i = 1; i <= 60; i++) await page.mouse.move(from.x + i, from.y + i / 2)
  await page.mouse.up()
}

/** The page in a real browser: until the first tube is solved, frames while a vertex is dragged, a thousand runs. */
export async function viewFigures(): Promise<Figure[]> {
  const browser = await launchBrowser()
  const served = await serveDist()
  try {
    const bench = { browser, address: served.address }
    const started = performance.now()
    const first = await openApp(bench)
    const firstTube = performance.now() - started
    await first.context.close()

    const { page } = await openApp(bench, { query: 'sample=thirty-runs' })
    const box = (await page.locator('.stage canvas').boundingBox())!
    const turning = await frameTime(page, () => dragged(page, { x: box.x + 30, y: box.y + 120 }))
    await page.keyboard.type('va')
    await page.waitForTimeout(800)
    const vertex = thirtyRuns().runs[0]!.vertices[2]!.at
    const where = () =>
      page.evaluate<{ x: number; y: number } | null>(`window.dogleg.project([${vertex.join(',')}])`)
    const at = await where()
    if (!at) throw new Error('viewFigures: the vertex is not in the picture')
    const legBefore = await page.locator('.unrolled').textContent()
    const dragging = await frameTime(page, () => dragged(page, at))
    const moved = legBefore !== (await page.locator('.unrolled').textContent())
    if (!moved) throw new Error('viewFigures: the drag moved no point')
    return [
      {
        name: 'page asked for until the first tube is solved and drawn, software drawing',
        value: `${firstTube.toFixed(0)} ms`,
      },
      {
        name: 'frame while dragging a vertex among 30 runs, against turning the view',
        value: `${(dragging / turning).toFixed(2)} x (${dragging.toFixed(0)} ms)`,
        aim: '≤ 1.5 x',
      },
      ...(await scaleFigures(bench)),
    ]
  } finally {
    await browser.close()
    served.close()
  }
}
