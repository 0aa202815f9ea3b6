import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { formatLength } from '../../src/document/quantity.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearanceReport } from '../../src/skid/clearanceCommand.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { allKept, equal, holds, openApp, ready, test } from './harness.ts'

/** A place of the two-bend sample's first straight, low on it. */
const ON_STRAIGHT_1: Vec3 = [0, 0, 470]
/** The sharp point where its second leg ends. */
const FAR: Vec3 = [300, 0, 500]

async function onScreen(page: Page, point: Vec3): Promise<{ x: number; y: number }> {
  // The camera may still be gliding, and frames are rare without a GPU: it stands when nothing moves for a while.
  let before = ''
  let still = 0
  for (;;) {
    const at = await page.evaluate(p => window.dogleg?.project(p) ?? null, point)
    const now = JSON.stringify(at)
    still = at && now === before ? still + 1 : 0
    if (at && still >= 4) return at
    before = now
    await page.waitForTimeout(150)
  }
}

test('a section moved by keys takes what it cuts away out of reach of the pointer, and off it is whole', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=two-bends' })
  const canvas = page.locator('.scene canvas')
  await canvas.focus()
  await page.keyboard.press('s')
  const slider = page.getByRole('slider', { name: 'Move the plane' })
  await slider.waitFor()
  holds(await slider.evaluate(e => e === document.activeElement), 'the slider did not take the focus')
  const field = page.getByRole('textbox', { name: 'At x' })
  await field.fill('100')
  await field.press('Enter')
  await slider.focus()
  await page.keyboard.press('ArrowRight')
  equal(await field.inputValue(), '101', 'the plane after one arrow key')
  // Folded in, the panel no longer stands over the picture; the section stays.
  await slider.focus()
  await page.keyboard.press('Escape')
  const probe = async (point: Vec3): Promise<boolean> => {
    await page.mouse.move(1, 1)
    const at = await onScreen(page, point)
    await page.mouse.move(at.x, at.y)
    await page.waitForTimeout(250)
    return (await canvas.evaluate(e => (e as HTMLElement).style.cursor)) !== ''
  }
  holds(await probe(ON_STRAIGHT_1), 'the straight before the plane is not picked')
  holds(!(await probe(FAR)), 'what is cut away is still picked')
  await canvas.focus()
  await page.keyboard.press('s')
  holds(await probe(FAR), 'without a section the far leg is not picked')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('two runs chosen by keyboard measure the same as the clearance command', async bench => {
  const text = readFileSync('sample-routes/thirty-runs.json', 'utf8')
  const read = readDocument(text)
  if (!read.ok) throw new Error(read.errors[0]!.message)
  const isRun = (tag: string) => read.document.runs.some(r => r.tag === tag)
  const pair = clearanceReport(read.document, solveDocument(read.document)).pairs.find(
    p => isRun(p.a) && isRun(p.b) && p.clearance > 0,
  )!
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('m')
  for (const [side, tag] of [
    ['From', pair.a],
    ['To', pair.b],
  ] as const) {
    await page.getByRole('combobox', { name: `${side}: what kind` }).selectOption({ label: 'Tube outside' })
    await page.getByRole('combobox', { name: `${side}: which`, exact: true }).selectOption({ label: tag })
  }
  const figure = page.locator('.lookFigure strong')
  const wanted = formatLength(pair.clearance, 'mm', { withUnit: true })
  equal(await figure.textContent(), wanted, `${pair.a} to ${pair.b}`)
  equal(await page.locator('.measureLabels b').textContent(), wanted, 'the dimension in the picture')
  await page.getByRole('button', { name: 'Keep in the list' }).click()
  await page
    .getByRole('listitem')
    .filter({ hasText: `tube ${pair.a}` })
    .first()
    .waitFor()
  await page.keyboard.press('Escape')
  await figure.waitFor({ state: 'detached' })
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a port and a point clicked in the picture give their distance along each axis', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('m')
  await page.locator('.lookPanel').waitFor()
  // The panel stands over the left of the picture: what is wanted is shifted from under it.
  const panel = (await page.locator('.lookPanel').boundingBox())!
  const hidden = await onScreen(page, [0, 0, 500])
  const canvas = (await page.locator('.scene canvas').boundingBox())!
  const from = { x: canvas.x + canvas.width - 40, y: canvas.y + canvas.height / 2 }
  const by = Math.max(0, panel.x + panel.width + 40 - hidden.x)
  await page.keyboard.down('Shift')
  await page.mouse.move(from.x - by, from.y)
  await page.mouse.down()
  await page.mouse.move(from.x, from.y, { steps: 4 })
  await page.mouse.up()
  await page.keyboard.up('Shift')
  // From the port at 0, 0, 381 to the sharp point at 0, 0, 600.
  for (const point of [
    [0, 0, 381],
    [0, 0, 600],
  ] as const) {
    const at = await onScreen(page, point)
    await page.mouse.move(at.x, at.y)
    await page.mouse.click(at.x, at.y)
  }
  equal(await page.locator('.lookFigure strong').textContent(), '219 mm', 'port to point')
  const rows = await page.locator('.lookRows div').allTextContents()
  equal(rows.slice(0, 4), ['dx0 mm', 'dy0 mm', 'dz219 mm', 'from horizontal90°'], 'rows')
})

test('a saved view brings back camera and section, after a reload too; undo takes it away', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=two-bends' })
  // The camera jumps: without a GPU a glide may begin later than one looks for its end.
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.locator('.scene canvas').focus()
  await page.keyboard.type('vr')
  await page.keyboard.press('s')
  await page.getByRole('slider', { name: 'Move the plane' }).waitFor()
  await page.keyboard.press('Escape')
  const there = await onScreen(page, FAR)
  await page.keyboard.type('vv')
  await page.getByRole('button', { name: 'Save this view' }).click()
  const note = page.locator('.lookPanel').getByLabel('Note')
  await note.fill('Is there room for the spanner?')
  await note.press('Control+Enter')
  const move = async () => {
    await page.getByRole('button', { name: /View 1/ }).focus()
    await page.keyboard.press('Escape')
    await page.locator('.scene canvas').focus()
    await page.keyboard.type('vt')
    await page.keyboard.press('s')
    const away = await onScreen(page, FAR)
    holds(Math.hypot(away.x - there.x, away.y - there.y) > 20, 'the camera did not move away')
    await page.keyboard.type('vv')
    await page.getByRole('button', { name: /View 1/ }).focus()
    await page.keyboard.press('Enter')
    const back = await onScreen(page, FAR)
    holds(
      Math.hypot(back.x - there.x, back.y - there.y) < 1,
      `the view did not come back: ${JSON.stringify([there, back])}`,
    )
    const section = page.getByRole('button', { name: /^Section/ })
    equal(await section.getAttribute('aria-pressed'), 'true', 'the section of the view')
  }
  await move()
  await allKept(page)
  await page.goto(`${bench.address}?detail=plain`)
  await ready(page)
  await page.locator('.scene canvas').focus()
  await page.keyboard.type('vv')
  const view = page.getByRole('button', { name: /View 1.*spanner/ })
  await view.focus()
  await page.keyboard.press('Enter')
  const back = await onScreen(page, FAR)
  holds(Math.hypot(back.x - there.x, back.y - there.y) < 1, 'the view did not come back after a reload')
  await view.focus()
  await page.keyboard.press('Delete')
  await view.waitFor({ state: 'detached' })
  await page.keyboard.press('Control+z')
  await view.waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
