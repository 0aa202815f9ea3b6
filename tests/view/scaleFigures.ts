import type { Browser } from 'playwright-core'
import { changeOf } from '../../src/document/documentChange.ts'
import { editRun } from '../../src/document/edits.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { fastFindings } from '../../src/store/checked.ts'
import { solvedRuns } from '../../src/store/derived.ts'
import { fitted, LOOKS, project, rayAt } from '../../src/view/scene/cameraRig.ts'
import { pickAt } from '../../src/view/scene/pick.ts'
import { scenePoints } from '../../src/view/scene/sceneBounds.ts'
import { countDrawing, drawnSince } from '../browser/drawCounts.ts'
import { caughtUp, openApp, openText } from '../browser/harness.ts'
import { manyRuns } from '../manyRuns.ts'
import type { Figure } from '../measure/figure.ts'

const FEW = 30
const MANY = 1000
const LARGEST = 5000
const median = (all: readonly number[]): number =>
  [...all].sort((a, b) => a - b)[all.length >> 1] ?? Number.NaN

/** Milliseconds to find what lies under each of 60 places in the picture of the whole skid; the median. */
function hoverMs(count: number): number {
  const document = manyRuns(count)
  const solved = solveDocument(document)
  const frame = { width: 1280, height: 800 }
  const rig = fitted(
    { target: [0, 0, 0], span: 1000, projection: 'perspective', ...LOOKS.iso },
    frame,
    scenePoints(document, new Set()),
  )
  const view = {
    project: (p: readonly [number, number, number]) => project(rig, frame, p),
    ray: (x: number, y: number) => rayAt(rig, frame, x, y),
  }
  const of = { document, solved, hidden: new Set<string>(), handlesOf: null }
  const times: number[] = []
  let hits = 0
  for (let round = 0; round < 3; round++)
    for (let i = 0; i < 60; i++) {
      const start = performance.now()
      if (pickAt(view, of, 340 + 10 * i, 200 + 7 * i)) hits++
      times.push(performance.now() - start)
    }
  if (hits === 0) throw new Error('scaleFigures: no run lay under any of the places')
  return median(times.slice(60))
}

/** Milliseconds from an edit of one run to solved runs and fast findings, as the page waits for them; the median. */
function editMs(count: number): number {
  let document = manyRuns(count)
  fastFindings(document)
  const times: number[] = []
  for (let k = 0; k < 41; k++) {
    const start = performance.now()
    document = editRun(document, `run${1 + ((7 * k) % count)}`, r => ({ ...r, clr: 40 + k }))
    solvedRuns(document)
    fastFindings(document)
    times.push(performance.now() - start)
  }
  return median(times)
}

/** Milliseconds from the key that enters a figure of one of that many runs to the frame that shows it; the median. */
async function shownMs(bench: { browser: Browser; address: string }, count: number): Promise<number> {
  const { page, context } = await openApp(bench)
  page.setDefaultTimeout(170_000)
  await openText(page, 'many.json', writeDocument(manyRuns(count)))
  await page.locator(`[role=grid][aria-rowcount="${count}"]`).waitFor()
  await caughtUp(page)
  await page.evaluate(`
    window.shown = []
    addEventListener('keydown', ({ key }) => {
      if (key !== 'Enter') return
      const pressed = performance.now()
      requestAnimationFrame(() => setTimeout(() => window.shown.push(performance.now() - pressed)))
    }, { capture: true })
  `)
  const cell = page.getByRole('grid', { name: /^Points of/ }).locator('[data-row="1"][data-col="1"]')
  for (let k = 1; k <= 5; k++) {
    await cell.first().click()
    await page.keyboard.type(`${10 + k}`)
    await page.keyboard.press('Enter')
    await page.waitForFunction(n => (Reflect.get(window, 'shown') as number[]).length >= n, k, {
      polling: 50,
    })
    await caughtUp(page)
  }
  const times = await page.evaluate<number[]>('window.shown')
  await context.close()
  return median(times)
}

/** Characters that the clearance worker is sent for an edit of one run, and for the whole document. */
function sentFor(count: number): { readonly edit: number; readonly whole: number } {
  const before = manyRuns(count)
  const after = editRun(before, `run${count >> 1}`, r => ({ ...r, clr: 41 }))
  const size = (change: unknown) => JSON.stringify(change).length
  return { edit: size(changeOf(before, after)), whole: size(changeOf(null, after)) }
}

interface Turned {
  readonly calls: number
  readonly ms: number
}

/** Draw calls of a frame, and milliseconds per frame until all are drawn, while the view of that many runs turns. */
async function turned(bench: { browser: Browser; address: string }, count: number): Promise<Turned> {
  const { page, context } = await openApp(bench, { before: countDrawing })
  page.setDefaultTimeout(90_000)
  await openText(page, 'many.json', writeDocument(manyRuns(count)))
  await page.locator(`[role=grid][aria-rowcount="${count}"]`).waitFor()
  await caughtUp(page)
  await page.waitForTimeout(1500)
  const box = (await page.locator('.stage canvas').boundingBox())!
  await drawnSince(page)
  const start = performance.now()
  await page.mouse.move(box.x + 30, box.y + 120)
  await page.mouse.down()
  for (let i = 1; i <= 40; i++) await page.mouse.move(box.x + 30 + 2 * i, box.y + 120 + i)
  await page.mouse.up()
  // Frames are drawn behind the page's back: reading a pixel waits until the last is there.
  await page.evaluate(`new Promise(done => requestAnimationFrame(() => {
    const gl = document.querySelector('.stage canvas').getContext('webgl2')
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4))
    done()
  }))`)
  const ms = performance.now() - start
  const { calls, frames } = await drawnSince(page)
  await context.close()
  return { calls, ms: ms / frames }
}

/** Milliseconds of the longest task while a file of that many runs is opened, until it is listed and checked. */
async function longestTask(bench: { browser: Browser; address: string }, count: number): Promise<number> {
  const { page, context } = await openApp(bench)
  page.setDefaultTimeout(90_000)
  await page.evaluate(`
    window.longest = 0
    new PerformanceObserver(list => {
      for (const { duration } of list.getEntries()) window.longest = Math.max(window.longest, duration)
    }).observe({ type: 'longtask' })
  `)
  await openText(page, 'many.json', writeDocument(manyRuns(count)))
  await page.locator(`[role=grid][aria-rowcount="${count}"]`).waitFor()
  await caughtUp(page)
  const longest = await page.evaluate<number>('window.longest')
  await context.close()
  return longest
}

/** What a thousand runs cost the page, against thirty. */
export async function scaleFigures(bench: { browser: Browser; address: string }): Promise<Figure[]> {
  const longest = await longestTask(bench, MANY)
  const few = await turned(bench, FEW)
  const many = await turned(bench, MANY)
  const [hoverFew, hoverMany] = [hoverMs(FEW), hoverMs(MANY)]
  const [edit30, edit300, edit1000] = [editMs(30), editMs(300), editMs(1000)]
  const [shownFew, shownLargest] = [await shownMs(bench, FEW), await shownMs(bench, LARGEST)]
  const sent = sentFor(LARGEST)
  return [
    {
      name: `edit of one run until the picture shows it, ${LARGEST} ÷ ${FEW} runs, software drawing`,
      value: `${(shownLargest / shownFew).toFixed(1)}× (${shownLargest.toFixed(0)} ms)`,
      aim: '≤ 300 ms',
    },
    {
      name: `sent to the clearance worker for it, of the whole document of ${LARGEST} runs`,
      value: `1 ÷ ${Math.round(sent.whole / sent.edit)} (${sent.edit} characters)`,
    },
    {
      name: `longest task while a file of ${MANY} runs × 10 bends is opened and checked`,
      value: `${longest.toFixed(0)} ms`,
      aim: '≤ 300 ms',
    },
    {
      name: `draw calls of a frame, ${MANY} runs × 10 bends (${FEW} runs)`,
      value: `${many.calls} (${few.calls})`,
    },
    {
      name: `frame while the view turns, until drawn, ${MANY} ÷ ${FEW} runs, software drawing`,
      value: `${(many.ms / few.ms).toFixed(2)}× (${many.ms.toFixed(0)} ms)`,
    },
    {
      name: `what lies under the pointer, ${MANY} runs ÷ ${FEW} runs`,
      value: `${(hoverMany / hoverFew).toFixed(1)}× (${hoverMany.toFixed(2)} ms)`,
    },
    {
      name: 'edit of one run until it is solved and checked but for clearance, 300 runs ÷ 30 runs',
      value: `${(edit300 / edit30).toFixed(1)}× (${edit300.toFixed(2)} ms)`,
    },
    {
      name: 'the same, 1000 runs ÷ 30 runs',
      value: `${(edit1000 / edit30).toFixed(1)}× (${edit1000.toFixed(2)} ms)`,
    },
  ]
}
