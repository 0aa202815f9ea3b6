import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { readDocument } from '../../src/document/readDocument.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { caughtUp, equal, files, holds, openApp, savedText, test } from './harness.ts'
import { sheetStl, skidGlb } from './modelScenes.ts'

const onScreen = async (page: Page, point: Vec3): Promise<{ x: number; y: number }> => {
  await page.waitForFunction(() => window.dogleg !== undefined)
  // The first fit follows the first size of the picture.
  await page.waitForTimeout(300)
  const at = await page.evaluate(p => window.dogleg?.project(p) ?? null, point)
  holds(at, `point ${point} is not in the picture`)
  return at
}
const readout = (page: Page) => page.getByTestId('scene-readout')
const saved = async (page: Page) => {
  const { text } = await savedText(page, () => page.keyboard.press('Control+s'))
  const read = readDocument(text)
  if (!read.ok) throw new Error(read.errors[0]!.message)
  return read.document
}

const importModel = async (page: Page, name: string, buffer: Buffer) => {
  await files(page, 'Import a model')
  await page.getByText('up to 4 million triangles').waitFor()
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: /^Choose a file/ }).click(),
  ])
  await chooser.setFiles({ name, mimeType: 'application/octet-stream', buffer })
  await page.getByTestId('model-size').waitFor()
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await page.getByRole('region', { name: 'Properties' }).getByRole('tree').waitFor()
}
/** Takes one side of a measurement in the panel. */
const take = async (page: Page, side: string, kind: string, which: string) => {
  await page.getByRole('combobox', { name: `${side}: what kind` }).selectOption({ label: kind })
  await page.getByRole('combobox', { name: `${side}: which`, exact: true }).selectOption({ label: which })
}

test('a point dragged up to an imported part comes to rest on it with the outside of its tube', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await importModel(page, 'skid.glb', await skidGlb())
  await page.getByRole('grid', { name: /^Points of/ }).waitFor()
  const from = await onScreen(page, [360, 200, 700])
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move(from.x - 12, from.y - 12, { steps: 3 })
  await page.getByText('Move point 3, z stays').waitFor()
  // The tray's wall stands at y 214.37, over x 180 … 330: the tube is 12 thick.
  const to = await onScreen(page, [300, 209.5, 700])
  await page.mouse.move(to.x - 3, to.y, { steps: 4 })
  await page.mouse.move(to.x, to.y, { steps: 2 })
  await readout(page).getByText('on a face of skid: Wall').waitFor()
  await page.mouse.up()
  const point = (await saved(page)).runs[0]!.vertices[1]!.at
  holds(Math.abs(point[1] - 208.37) < 1e-3, `point 3 is at y ${point[1]}, wanted 208.37`)
  equal(point[2], 700, 'its height')
  equal(troubles, [], 'the page complained')
})

test('how near the run comes is said beside a straight that is dragged or changed by keys', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  const words = page.getByTestId('straight-nearest')
  const grip = await page.locator('[data-grip] .hit').first().boundingBox()
  holds(grip, 'no straight has a grip')
  const [x, y] = [grip.x + grip.width / 2, grip.y + grip.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + 6, y, { steps: 3 })
  await words.getByText(/mm/).waitFor()
  await page.mouse.up()
  await words.waitFor({ state: 'detached' })
  await page
    .getByRole('toolbar', { name: /unrolled/ })
    .getByRole('button', { name: /^Straight 2 of \d+:/ })
    .focus()
  await page.keyboard.press('+')
  await words.getByText(/mm/).waitFor()
  const shown = (await words.locator('output').textContent()) ?? ''
  await page.locator('.said').getByText(`nearest: ${shown}`).waitFor()
  await caughtUp(page)
  await words.waitFor({ state: 'detached' })
  equal(troubles, [], 'the page complained')
})

test('a support is put where the tube is pointed at, not on a bend, one step each', async bench => {
  const read = readDocument(readFileSync('sample-routes/first-route.json', 'utf8'))
  if (!read.ok) throw new Error(read.errors[0]!.message)
  const { document } = read
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await page
    .getByRole('toolbar', { name: /unrolled/ })
    .getByRole('button', { name: /^Straight 3 of \d+:/ })
    .focus()
  await page.keyboard.press('Enter')
  await page.keyboard.press('Escape')
  const tool = page.getByRole('button', { name: 'Point in 3D' })
  await tool.click()
  equal(await tool.getAttribute('aria-pressed'), 'true', 'the tool')
  const { pieces } = solveRun(document, document.runs[0]!).route!
  const straight = pieces.find(p => p.kind === 'line' && p.straight === 2)!
  const on = await onScreen(page, pointOn(straight, 100).point)
  const pointed = readout(page).getByText('Click: support on straight 3')
  // The tool is loaded with its first use: a hand that trembles finds it there.
  for (let tries = 0; tries < 50 && (await pointed.count()) === 0; tries++) {
    await page.mouse.move(on.x + (tries % 2), on.y)
    await page.waitForTimeout(100)
  }
  await page.mouse.move(on.x, on.y)
  await pointed.waitFor()
  await readout(page).getByText('from bend 2').waitFor()
  await readout(page).getByText('to end B').waitFor()
  equal((await saved(page)).supports.length, 0, 'supports while only pointing')
  await page.mouse.click(on.x, on.y)
  await page
    .locator('.said')
    .getByText(/^Support 1 is on straight 3 of AE-101/)
    .waitFor()
  const [support] = (await saved(page)).supports
  holds(support, 'no support')
  const from = distance(support.at, straight.start)
  holds(Math.abs(from - 100) < 4, `${from} mm from bend 2, pointed at 100`)
  holds(Math.abs(from - Math.round(from)) < 1e-6, `${from} mm is no round figure`)
  const off = distance(support.at, pointOn(straight, from).point)
  holds(off < 1e-6, `${off} mm off the centre line`)
  const bent = pieces.find(p => p.kind === 'arc' && p.bend === 2)!
  const bend = await onScreen(page, pointOn(bent, (bent.to - bent.from) / 2).point)
  await page.mouse.move(bend.x, bend.y)
  await readout(page).getByText('No support here: that is bend 3').waitFor()
  await page.mouse.click(bend.x, bend.y)
  equal((await saved(page)).supports.length, 1, 'supports after a click on a bend')
  await page.keyboard.press('Escape')
  equal(
    await page.getByRole('button', { name: 'Point in 3D' }).getAttribute('aria-pressed'),
    'false',
    'after Escape',
  )
  await page.keyboard.press('Control+z')
  equal((await saved(page)).supports.length, 0, 'supports after one undo')
  equal(troubles, [], 'the page complained')
})

test('a solid, a part and a whole model are measured against each other from the panel', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=dense-skid' })
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('m')
  await page
    .getByRole('combobox', { name: 'From: what kind' })
    .getByText('Imported model or part')
    .waitFor({ state: 'attached', timeout: 45_000 })
  await take(page, 'From', 'Solid', 'Floor')
  await take(page, 'To', 'Imported model or part', 'Pump skid: all measured parts')
  const figure = page.locator('.lookFigure strong')
  await figure.waitFor()
  const whole = await figure.textContent()
  holds(/mm$/.test(whole ?? ''), `the floor and the whole model: ${whole}`)
  await take(page, 'To', 'Imported model or part', 'Pump skid: Front rail')
  await page.getByText('Floor – Pump skid: Front rail').waitFor()
  await take(page, 'From', 'Imported model or part', 'Pump skid: Deck plate')
  await page.getByText('Pump skid: Deck plate – Pump skid: Front rail').waitFor()
  equal(await page.getByText('Not measured').count(), 0, 'refusals')
  await take(page, 'To', 'Imported model or part', 'Pump skid: all measured parts')
  await page.getByText('Not measured: Pump skid: Deck plate and Pump skid have a part in common.').waitFor()
  equal(troubles, [], 'the page complained')
})

test('a skin of 60,000 triangles is measured from a solid, and nudging a point names what is near', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  // Its lowest place is 4 under the middle, at 1200: 1196 over the floor, to a hundredth by where its triangles end.
  await importModel(page, 'skin.stl', sheetStl(200, 150, 1, 1200))
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('m')
  await take(page, 'From', 'Solid', 'Floor')
  // It is the only one there is.
  await page
    .getByRole('combobox', { name: 'To: what kind' })
    .selectOption({ label: 'Imported model or part' })
  const figure = page.locator('.lookFigure strong')
  await figure.waitFor({ timeout: 45_000 })
  const mm = Number.parseFloat((await figure.textContent()) ?? '')
  holds(Math.abs(mm - 1196) < 0.05, `the skin is ${mm} mm over the floor, wanted 1196`)
  await page.keyboard.press('Escape')
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('.')
  await page.keyboard.press('.')
  await page.keyboard.press('ArrowRight')
  const said = page.locator('.said').getByText(/^point 2: .*; nearest: .*mm/)
  await said.waitFor()
  await page.keyboard.press('ArrowLeft')
  await said.waitFor()
  equal(troubles, [], 'the page complained')
})
