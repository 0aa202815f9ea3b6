import type { Page } from 'playwright-core'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { equal, holds, openApp, test } from './harness.ts'

/** Point 3 of the sample "first route", mm. */
const POINT_3: Vec3 = [360, 200, 700]

async function onScreen(page: Page, point: Vec3): Promise<{ x: number; y: number }> {
  await page.waitForFunction(() => window.dogleg !== undefined)
  // The first fit follows the first size of the picture.
  await page.waitForTimeout(300)
  const at = await page.evaluate(p => window.dogleg?.project(p) ?? null, point)
  holds(at, `point ${point} is not in the picture`)
  return at
}

async function cell(page: Page, name: string): Promise<string> {
  const label = await page.getByRole('gridcell', { name: new RegExp(`^${name}:`) }).getAttribute('aria-label')
  return (label ?? '').replace(/^.*?: */, '').replace(/ mm$/, '')
}
const place = async (page: Page, point: string) =>
  Promise.all(['X', 'Y', 'Z'].map(axis => cell(page, `${point}, ${axis}`)))

const pointRows = (page: Page) =>
  page
    .getByRole('grid', { name: /^Points of/ })
    .locator('tbody tr')
    .count()

async function grip(page: Page, point: Vec3, dx: number, dy: number): Promise<void> {
  const at = await onScreen(page, point)
  await page.mouse.move(at.x, at.y)
  await page.mouse.down()
  await page.mouse.move(at.x + dx, at.y + dy, { steps: 4 })
}

test('a point dragged in 3D takes a typed figure along a locked axis exactly, as one step', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await grip(page, POINT_3, 30, 20)
  await page.getByText('Move point 3, z stays').waitFor()
  await page.keyboard.press('ArrowRight')
  await page.getByText('Move point 3 along x').waitFor()
  await page.keyboard.type('45.5')
  await page.keyboard.press('Enter')
  await page.mouse.up()
  equal(await place(page, 'Point 3'), ['405.5', '200', '700'], 'point 3 after the typed move')
  await page.keyboard.press('Control+z')
  equal(await place(page, 'Point 3'), ['360', '200', '700'], 'point 3 after one undo')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('Escape while a point is dragged puts everything back and leaves no step', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await grip(page, POINT_3, 40, 10)
  holds((await cell(page, 'Point 3, X')) !== '360', 'the drag did not show in the table')
  await page.keyboard.press('Escape')
  await page.mouse.up()
  equal(await place(page, 'Point 3'), ['360', '200', '700'], 'point 3 after Escape')
  holds(await page.getByRole('button', { name: /^Undo/ }).isDisabled(), 'Escape left a step to undo')
})

test('points are walked to, nudged, inserted and deleted by keys alone while the picture has the focus', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await onScreen(page, POINT_3)
  await page.locator('.scene canvas').focus()
  const before = await pointRows(page)
  for (let i = 0; i < 3; i++) await page.keyboard.press('.')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('Shift+PageUp')
  equal(await place(page, 'Point 3'), ['361', '200', '710'], 'point 3 after two nudges')
  await page.keyboard.press('i')
  equal(await pointRows(page), before + 1, 'points after an insertion')
  await page.keyboard.press('Delete')
  equal(await pointRows(page), before, 'points after the deletion')
})

test('a click on the work plane places a point at its height', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const before = await pointRows(page)
  const at = await onScreen(page, [600, 100, 650])
  await page.getByRole('button', { name: /^Place points/ }).click()
  const height = page.getByLabel('Plane z')
  await height.fill('650')
  await height.press('Enter')
  await page.mouse.move(at.x, at.y)
  await page.mouse.click(at.x, at.y)
  equal(await pointRows(page), before + 1, 'points after the click')
  // Before the stub of the far port, which keeps its place.
  equal(await cell(page, `Point ${before - 1}, Z`), '650', 'height of the new point')
})

test('a lost picture comes back by itself with the selection kept', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const at = await onScreen(page, POINT_3)
  await page.mouse.click(at.x, at.y)
  const lit = page.locator('.sceneLabel.numberLit')
  equal(await lit.textContent(), '3', 'the lit number')
  await page.evaluate(() => {
    const gl = document.querySelector<HTMLCanvasElement>('.scene canvas')?.getContext('webgl2')
    gl?.getExtension('WEBGL_lose_context')?.loseContext()
  })
  await page.getByText(/3D view lost/).waitFor()
  await page.getByText(/3D view lost/).waitFor({ state: 'detached' })
  holds(
    await page.evaluate(
      () =>
        document.querySelector<HTMLCanvasElement>('.scene canvas')?.getContext('webgl2')?.isContextLost() ===
        false,
    ),
    'the context is still lost',
  )
  equal(await lit.textContent(), '3', 'the lit number afterwards')
})
