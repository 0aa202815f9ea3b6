import { readFileSync } from 'node:fs'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { manyRuns } from '../manyRuns.ts'
import { countDrawing, drawnSince } from './drawCounts.ts'
import { caughtUp, equal, holds, openApp, openText, test } from './harness.ts'

const COUNT = 1000
/** One call for each 64 tubes, and some for floor, handles and labels' marks. */
const MOST_CALLS = 40
/** More rows than this in the page would mean that the list is not cut to what is in sight. */
const MOST_ROWS = 60

test('a thousand runs are drawn in few calls, and pointing at one makes no new program', async bench => {
  const { page, troubles } = await openApp(bench, { before: countDrawing })
  page.setDefaultTimeout(50_000)
  await page.evaluate(`
    window.percents = []
    new MutationObserver(() => {
      const said = /clearance \\((\\d+) % done/.exec(document.querySelector('.statusLine')?.textContent ?? '')
      if (said) window.percents.push(Number(said[1]))
    }).observe(document.body, { subtree: true, childList: true, characterData: true })
  `)
  await openText(page, 'many.json', writeDocument(manyRuns(COUNT)))
  await page.locator(`[role=grid][aria-rowcount="${COUNT}"]`).waitFor()
  await caughtUp(page)
  const percents = await page.evaluate<number[]>('window.percents')
  holds(percents.length > 0, 'the status line never said how far clearance is')
  equal(
    percents,
    [...percents].sort((a, b) => a - b),
    'percents of clearance in order',
  )

  const box = (await page.locator('.stage canvas').boundingBox())!
  await drawnSince(page)
  await page.mouse.move(box.x + 30, box.y + 120)
  await page.mouse.down()
  for (let i = 1; i <= 10; i++) await page.mouse.move(box.x + 30 + 3 * i, box.y + 120 + i)
  await page.mouse.up()
  await page.waitForTimeout(500)
  const turned = await drawnSince(page)
  holds(turned.frames > 1, `${turned.frames} frames were drawn while the view turned`)
  // Eleven straights of six flats each, two triangles to a flat: less would mean that tubes are missing.
  holds(turned.corners > COUNT * 11 * 6 * 6, `${turned.corners} corners were drawn`)
  holds(turned.calls <= MOST_CALLS, `${turned.calls} draw calls in a frame, wanted ${MOST_CALLS} at most`)

  const point = async (i: number) => {
    await page.mouse.move(box.x + box.width * (0.35 + 0.03 * i), box.y + box.height * (0.4 + 0.02 * i))
    await page.waitForTimeout(150)
  }
  await point(0)
  await page.mouse.move(box.x + 5, box.y + 5)
  await page.waitForTimeout(150)
  await drawnSince(page)
  for (let i = 1; i <= 9; i++) await point(i)
  const hovered = await drawnSince(page)
  holds(hovered.frames > 3, `${hovered.frames} frames were drawn while runs were pointed at`)
  equal(hovered.programs, 0, 'programs made while runs were pointed at')
  holds(hovered.calls <= MOST_CALLS, `${hovered.calls} draw calls in a frame with a run lit`)

  equal(troubles, [], 'what the page complained of')
})

test('a point that is dragged among thirty runs makes no program anew, and the tables have its place at the end', async bench => {
  const { page, troubles } = await openApp(bench, { before: countDrawing, query: 'sample=thirty-runs' })
  await page.keyboard.type('va')
  await page.waitForTimeout(800)
  const cell = page.getByRole('grid', { name: /^Points of/ }).locator('[data-row="2"][data-col="1"]')
  const sample = readFileSync('sample-routes/thirty-runs.json', 'utf8')
  const place = (JSON.parse(sample) as SkidDocument).runs[0]!.vertices[1]!.at
  const at = await page.evaluate<{ x: number; y: number }>(`window.dogleg.project([${place.join(',')}])`)
  const before = await cell.textContent()
  await page.mouse.move(at.x, at.y)
  await page.mouse.down()
  // The first moves bring the guides and whatever else is drawn while dragging only.
  for (let i = 1; i <= 8; i++) await page.mouse.move(at.x + 2 * i, at.y + i)
  await page.waitForTimeout(500)
  await drawnSince(page)
  for (let i = 8; i <= 24; i++) await page.mouse.move(at.x + 2 * i, at.y + i)
  await page.waitForTimeout(300)
  const dragged = await drawnSince(page)
  await page.mouse.up()
  holds(dragged.frames > 3, `${dragged.frames} frames were drawn while a point was dragged`)
  equal(dragged.programs, 0, 'programs made while a point was dragged')
  await caughtUp(page)
  holds((await cell.textContent()) !== before, `the table still says ${before}`)
  equal(troubles, [], 'what the page complained of')
})

test('of hundreds of findings only those about the window are in the page, and the keys reach all', async bench => {
  const { page, troubles } = await openApp(bench)
  page.setDefaultTimeout(40_000)
  await openText(page, 'many.json', writeDocument(manyRuns(300)))
  await page.locator('[role=grid][aria-rowcount="300"]').waitFor()
  await caughtUp(page)
  await page.keyboard.press('Alt+3')
  const list = page.getByRole('listbox', { name: 'Findings' })
  await list.waitFor()
  const rows = list.getByRole('option')
  const total = Number(await rows.first().getAttribute('aria-setsize'))
  holds(total > 150, `${total} findings: too few to say anything about a long list`)
  holds((await rows.count()) <= MOST_ROWS, `${await rows.count()} of ${total} findings are in the page`)
  await rows.first().focus()
  await page.keyboard.press('End')
  const placed = () => page.evaluate(() => document.activeElement?.getAttribute('aria-posinset') ?? null)
  equal(await placed(), String(total), 'the finding that has the focus after End')
  await page.keyboard.press('ArrowUp')
  equal(await placed(), String(total - 1), 'the finding that has the focus after End and up')
  holds(await page.locator(':focus').isVisible(), 'the row with the focus is not in sight')
  holds((await rows.count()) <= MOST_ROWS, `${await rows.count()} findings are in the page after End`)
  equal(troubles, [], 'what the page complained of')
})

test('hundreds of solids are drawn in few calls, and one that is picked is lit by itself', async bench => {
  const { page, troubles } = await openApp(bench, { before: countDrawing })
  const solids = Array.from({ length: 400 }, (_, i): Solid => {
    const at = [1200 + (i % 20) * 90, Math.floor(i / 20) * 90, 400] as const
    const named = { id: `s${i}`, name: `Post ${i}, invented`, fitting: null, at }
    return i % 2 === 0
      ? { ...named, kind: 'structure', shape: 'box', size: [40, 40, 300], turn: [0, 0, 10] }
      : { ...named, kind: 'equipment', shape: 'cylinder', axis: [0, 1, 1], radius: 20, length: 80 }
  })
  await openText(page, 'solids.json', writeDocument({ ...manyRuns(5), name: 'Posts', solids }))
  await page.locator('[role=grid][aria-rowcount="5"]').waitFor()
  await caughtUp(page)
  const box = (await page.locator('.stage canvas').boundingBox())!
  const turn = async () => {
    await drawnSince(page)
    await page.mouse.move(box.x + 10, box.y + 120)
    await page.mouse.down()
    for (let i = 1; i <= 6; i++) await page.mouse.move(box.x + 10 + 2 * i, box.y + 120)
    await page.mouse.up()
    await page.waitForTimeout(500)
    return drawnSince(page)
  }
  const before = await turn()
  // A box is 36 corners and 24 of its edges, and half of the solids are boxes.
  holds(before.corners > 200 * 60, `${before.corners} corners were drawn`)
  holds(before.calls <= MOST_CALLS, `${before.calls} draw calls in a frame`)
  const at = await page.evaluate<{ x: number; y: number }>('window.dogleg.project([1200, 900, 549])')
  await page.mouse.click(at.x, at.y)
  await page.getByRole('textbox', { name: 'Name' }).first().waitFor()
  const after = await turn()
  equal(after.calls, before.calls + 2, 'draw calls with one solid lit: its body and its edges')
  equal(troubles, [], 'what the page complained of')
})
