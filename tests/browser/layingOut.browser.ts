import type { Page } from 'playwright-core'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { fewRunsText, middleOf } from './fewRuns.ts'
import { type Bench, caughtUp, equal, files, holds, openApp, openText, savedText, test } from './harness.ts'
import { colourAt, colourOther, differ, standsAt, standsElsewhere } from './pixels.ts'

const saved = async (page: Page): Promise<SkidDocument> =>
  JSON.parse((await savedText(page, () => page.keyboard.press('Control+s'))).text)
const add = async (page: Page, what: string) => {
  await page.getByRole('button', { name: what, exact: true }).click()
  await page.getByRole('button', { name: 'Delete', exact: true }).waitFor()
}
async function newSkid(bench: Bench): Promise<Page> {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await files(page, 'New skid')
  await page.getByRole('button', { name: 'Box', exact: true }).waitFor()
  return page
}

test('an axis is typed as a whole or chosen by a button, and no axis in between is refused', async bench => {
  const page = await newSkid(bench)
  await add(page, 'Fitting')
  const axis = page.getByRole('textbox', { name: /^Axis/ })
  equal(await axis.inputValue(), '1, 0, 0', 'the axis of a new port')
  await axis.fill('0, 0, 1')
  await axis.press('Enter')
  equal((await saved(page)).fittings[0]!.axis, [0, 0, 1], 'the typed axis')
  await page.getByRole('button', { name: '−Y', exact: true }).click()
  equal(await axis.inputValue(), '0, -1, 0', 'the axis shown after −Y')
  equal((await saved(page)).fittings[0]!.axis, [0, -1, 0], 'the chosen axis')
  await axis.fill('0, 0, 0')
  await axis.press('Enter')
  await page.getByRole('alert').filter({ hasText: 'no direction' }).waitFor()
  equal((await saved(page)).fittings[0]!.axis, [0, -1, 0], 'the axis after a refused one')
  await page.keyboard.press('Escape')
  await page.keyboard.press('Control+z')
  await page.keyboard.press('Control+z')
  equal((await saved(page)).fittings[0]!.axis, [1, 0, 0], 'the axis after two undos: one step each')
})

test('a port that was pointed at and selected is not drawn in the next document', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const [a, b] = (await saved(page)).fittings
  // Without the route's handles, and behind the face: there the port itself is under the pointer.
  await page.keyboard.press('r')
  const behind = ({ position: p, axis }: NonNullable<typeof a>): Vec3 =>
    [0, 1, 2].map(k => p[k]! - (14 * axis[k]!) / Math.hypot(...axis)) as unknown as Vec3
  const [atA, atB] = [await standsAt(page, behind(a!)), await standsAt(page, behind(b!))]
  for (const at of [atA, atB]) {
    await page.mouse.move(at.x, at.y)
    await page.mouse.click(at.x, at.y)
    await page.locator('.inspector').getByRole('textbox', { name: /^Axis/ }).waitFor()
  }
  await page.keyboard.press('Escape')
  await files(page, 'New skid')
  await page.getByText('nothing to check', { exact: true }).waitFor()
  await page.mouse.move(2, 2)
  // The camera stands where it stood: where the ports were there is nothing but the ground.
  for (const at of [atA, atB]) {
    const ground = await colourAt(page, { x: at.x, y: at.y })
    const beside = await colourAt(page, { x: at.x + 40, y: at.y })
    holds(differ(ground, beside) < 60, `something is drawn where a port was: ${ground.map(Math.round)}`)
    const [r, , blue] = ground
    holds(
      !(r > 150 && blue < 90),
      `the colour of what is selected is drawn where a port was: ${ground.map(Math.round)}`,
    )
  }
})

test('no list makes the page scroll, with everything in it opened', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await openText(page, 'seven.json', fewRunsText())
  await page.locator('[role=row][data-run="r7"]').waitFor()
  await caughtUp(page)
  const overflow = () =>
    page.evaluate(() => {
      const { scrollHeight, clientHeight, scrollWidth, clientWidth } = document.documentElement
      return [scrollHeight - clientHeight, scrollWidth - clientWidth]
    })
  const closed = page.locator('.finding-fix button[aria-expanded=false]')
  for (let n = await closed.count(); n > 0; n--) await closed.first().click()
  await page.locator('.mends .primary').last().waitFor()
  await page.locator('.finding-list').evaluate(e => e.scrollTo(0, e.scrollHeight))
  equal(await overflow(), [0, 0], 'what the page could be scrolled by while laying out')
  await page.keyboard.press('Alt+3')
  await page.locator('.review-row').first().click()
  await page.locator('.mends .primary').first().waitFor()
  equal(await overflow(), [0, 0], 'what the page could be scrolled by while reviewing')
})

test('Tab right after typing goes to the next field of Properties, and what is typed next goes in there', async bench => {
  const page = await newSkid(bench)
  await add(page, 'Box')
  const centre = page.getByRole('group', { name: 'Centre' })
  await centre.getByLabel('X', { exact: true }).click()
  await page.keyboard.type('120')
  await page.keyboard.press('Tab')
  await page.keyboard.type('230')
  await page.keyboard.press('Tab')
  await page.keyboard.type('340')
  await page.keyboard.press('Enter')
  const [box] = (await saved(page)).solids
  equal([box!.name, box!.at], ['Box 1', [120, 230, 340]], 'the box')
})

/** Route points of the first run, with those of its ports' faces left out. */
const vertices = async (page: Page) => (await saved(page)).runs[0]!.vertices.map(v => v.at)

test('a placed point goes between the points on either side of what is selected, and never behind the far port’s stub', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const before = await vertices(page)
  await page.getByRole('rowheader', { name: /^Point 2/ }).click()
  await page.getByRole('button', { name: /^Place points/ }).click()
  // Somewhere on the work plane where nothing lies over the picture.
  let at = { x: 0, y: 0 }
  for (const [x, y] of [
    [100, 100],
    [300, 50],
    [200, 250],
    [400, 100],
    [0, 300],
  ] as const) {
    at = await standsAt(page, [x, y, before[0]![2]])
    const isFree = await page.evaluate(
      p => document.elementFromPoint(p.x, p.y) instanceof HTMLCanvasElement,
      at,
    )
    if (isFree) break
  }
  await page.mouse.move(at.x, at.y)
  await page
    .getByTestId('scene-readout')
    .getByText(/Click: point 3,/)
    .waitFor()
  await page.mouse.click(at.x, at.y)
  const after = await vertices(page)
  equal(after.length, before.length + 1, 'points after the click')
  equal([after[0], ...after.slice(2)], before, 'the other points, in their order')
  await page.keyboard.press('Control+z')
  // With the run's last point selected, and with nothing of it: before the stub, not behind it.
  for (const select of [
    () => page.getByRole('rowheader', { name: new RegExp(`^Point ${before.length + 1}`) }).click(),
    () => page.locator('[role=row][data-run]').first().click(),
  ]) {
    await select()
    await page.mouse.move(at.x + 5, at.y + 5)
    await page.mouse.click(at.x + 5, at.y + 5)
    const now = await vertices(page)
    equal(now.length, before.length + 1, 'points after the click')
    equal(now.at(-1), before.at(-1), 'the last point before the port')
    await page.keyboard.press('Control+z')
  }
})

test('the work plane can stand across an axis, is shown, goes along with each point, and wins over faces with Alt, snaps and all', async bench => {
  const page = await newSkid(bench)
  await openText(page, 'plate.json', JSON.stringify(plate()))
  await page.locator('[role=row][data-run]').waitFor()
  await page.getByRole('button', { name: /^Place points/ }).click()
  const readout = page.getByTestId('scene-readout')
  // Above the plate a click means its face; with Alt the plane, rounded to whole steps all the same.
  const above = await standsAt(page, [212, 37, 300])
  await page.mouse.move(above.x, above.y)
  await readout.getByText(/on a face of Base/).waitFor()
  await page.keyboard.down('Alt')
  await page.mouse.move(above.x + 2, above.y)
  await readout.getByText(/on the work plane, z 300 mm/).waitFor()
  await page.mouse.click(above.x + 2, above.y)
  await page.keyboard.up('Alt')
  const placed = (await vertices(page)).at(-1)!
  equal(placed[2], 300, 'the height of the point placed with Alt')
  holds(
    placed.every(v => Math.abs(v * 10 - Math.round(v * 10)) < 1e-6),
    `the point placed with Alt is not rounded: ${placed}`,
  )
  // Upright, across x, through the point that was placed last; seen in the picture.
  await page.getByRole('combobox', { name: 'Plane', exact: true }).selectOption('x')
  equal(
    await page.getByRole('textbox', { name: 'Plane x' }).inputValue(),
    String(placed[0]),
    'where the plane stands',
  )
  await page.getByRole('button', { name: 'On faces' }).click()
  const aside = await standsAt(page, [placed[0], placed[1] + 120, 360])
  const bare = await colourAt(page, aside)
  await page.mouse.move(aside.x, aside.y)
  await readout.getByText(new RegExp(`on the work plane, x ${placed[0]} mm`)).waitFor()
  await page.mouse.click(aside.x, aside.y)
  const next = (await vertices(page)).at(-1)!
  holds(Math.abs(next[0] - placed[0]) < 1e-9, `the point is at x ${next[0]}, the plane at ${placed[0]}`)
  await page.getByRole('combobox', { name: 'Plane', exact: true }).selectOption('y')
  equal(
    await page.getByRole('textbox', { name: 'Plane y' }).inputValue(),
    String(next[1]),
    'the plane follows the point',
  )
  await page.mouse.move(2, 2)
  await colourOther(page, aside, bare, 1)
})

function plate(): object {
  const run = JSON.parse(fewRunsText()).runs[0]
  return {
    ...JSON.parse(fewRunsText()),
    runs: [
      {
        ...run,
        endA: { kind: 'free', at: [0, 0, 300] },
        vertices: [],
        endB: { kind: 'free', at: [0, 300, 300] },
      },
    ],
    solids: [
      {
        ...JSON.parse(fewRunsText()).solids[0],
        name: 'Base',
        kind: 'structure',
        at: [200, 0, -10],
        size: [2000, 2000, 20],
      },
    ],
  }
}

const sides = async (page: Page, run: string): Promise<Vec3[]> => {
  const found = (await saved(page)).runs.find(r => r.id === run)!
  const [a, b] = [found.endA, found.endB].map(e => (e.kind === 'free' ? e.at : null))
  return [a!, ...found.vertices.map(v => v.at), b!]
}

test('a straight is dragged in 3D square to itself, takes a typed figure exactly, and is one step', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await openText(page, 'seven.json', fewRunsText())
  await page.locator('[role=row][data-run="r7"]').waitFor()
  await page.locator('[role=row][data-run="r6"]').click()
  const before = await sides(page, 'r6')
  const at = await standsAt(page, middleOf(6))
  await page.mouse.move(at.x, at.y)
  await page.mouse.down()
  await page.mouse.move(at.x + 4, at.y + 30, { steps: 5 })
  const readout = page.getByTestId('scene-readout')
  await readout.getByText(/^Move straight 1 /).waitFor()
  // Whichever way the pull meant, the arrow keys reach both.
  for (let n = 0; n < 3 && !/along z/.test((await readout.textContent()) ?? ''); n++)
    await page.keyboard.press('ArrowUp')
  await readout.getByText('Move straight 1 along z').waitFor()
  await page.keyboard.type('42.5')
  await page.keyboard.press('Enter')
  await page.mouse.up()
  const after = await sides(page, 'r6')
  equal(
    after,
    before.map((p, i) => (i < 2 ? [p[0], p[1], p[2] + 42.5] : p)),
    'the route after the typed figure',
  )
  await page.keyboard.press('Control+z')
  equal(await sides(page, 'r6'), before, 'the route after one undo')
  // A straight that a port holds says so and stays.
})

test('a figure typed while a straight is dragged on the unrolled tube is what it becomes', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const straight = async () =>
    Number(
      (
        (await page.getByRole('gridcell', { name: /^Straight before bend 2:/ }).getAttribute('aria-label')) ??
        ''
      ).replace(/^.*: /, ''),
    )
  const before = await straight()
  const box = (await page.locator('[data-grip="1"] .hit').first().boundingBox())!
  const grip = async () => {
    await page.mouse.move(box.x + 5, box.y + 10)
    await page.mouse.down()
    await page.mouse.move(box.x - 20, box.y + 10, { steps: 5 })
  }
  await grip()
  await page.keyboard.type('142.5')
  await page.locator('.drag-figure', { hasText: '142.5 mm' }).waitFor()
  await page.mouse.move(box.x + 60, box.y + 10, { steps: 3 })
  await page.keyboard.press('Enter')
  await page.mouse.up()
  equal(await straight(), 142.5, 'straight 2 after Enter')
  await page.keyboard.press('Control+z')
  equal(await straight(), before, 'straight 2 after one undo')
  // Let go without Enter: what was typed counts, not where the pointer was.
  await grip()
  await page.keyboard.type('131')
  await page.mouse.up()
  equal(await straight(), 131, 'straight 2 after letting go')
  await page.keyboard.press('Control+z')
  await grip()
  await page.keyboard.type('12qq')
  await page.mouse.up()
  equal(await straight(), before, 'straight 2 after a text that is no length')
  await page.locator('.said', { hasText: /qq/ }).waitFor()
})

test('a long figure opens rounded in its cell and stays exact, and a new box stands on the floor', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const cell = page.getByRole('gridcell', { name: /^Straight before bend 2:/ })
  await cell.dblclick()
  const input = cell.locator('input')
  const text = await input.inputValue()
  holds(/^\d+(\.\d{1,4})?$/.test(text), `the cell opens with ${text}`)
  const before = await saved(page)
  await input.focus()
  await page.keyboard.press('Enter')
  equal(await saved(page), before, 'the skid after Enter on an unchanged figure')
  await files(page, 'New skid')
  for (const [what, half] of [
    ['Box', 50],
    ['Cylinder', 100],
    ['Sphere', 50],
  ] as const) {
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: what, exact: true }).waitFor()
    await add(page, what)
    const solid = (await saved(page)).solids.at(-1)!
    equal(solid.at[2], half, `the middle of a new ${what} above the floor`)
  }
  const diameter = page.getByRole('textbox', { name: 'Diameter' })
  await diameter.fill('168.3')
  await diameter.press('Enter')
  const round = (await saved(page)).solids.at(-1)!
  equal('radius' in round && round.radius, 84.15, 'the radius of a ball of 168.3 across')
})

test('a table with commas asks once what they mean, and marks its cells without words', async bench => {
  const { page } = await openApp(bench, { query: 'sample=two-bends' })
  await files(page, 'Import a table')
  const dialog = page.getByRole('dialog')
  const rows = Array.from({ length: 30 }, (_, i) => `${i}0,5;${i}1,25;${i}2,75`).join('\n')
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    dialog.getByRole('button', { name: /^Choose a/ }).click(),
  ])
  await chooser.setFiles({
    name: 'commas.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(`x;y;z\n${rows}\n`),
  })
  await dialog.getByText('What a comma means', { exact: true }).waitFor()
  await dialog.locator('.cellAsked').first().waitFor()
  equal(await dialog.locator('.cellFault').count(), 0, 'messages in cells')
  holds(
    (await dialog.locator('.cellAsked').count()) >= 30,
    'the cells that wait for the answer are not marked',
  )
})

test('CLR for many runs is offered from the dies at hand', async bench => {
  const { page } = await openApp(bench, { query: 'sample=algae-manifold' })
  await page.locator('[role=row][data-run] .run-pick').first().click()
  await page.getByRole('button', { name: 'Change…' }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('checkbox', { name: 'Change CLR' }).check()
  const dies = dialog.getByRole('combobox', { name: 'CLR of a die at hand' })
  const choices = await dies.locator('option').allTextContents()
  holds(choices.length > 1, `dies offered: ${choices}`)
  await dies.selectOption({ index: 1 })
  const typed = await dialog.getByRole('textbox', { name: 'New CLR' }).inputValue()
  holds(choices[1]!.startsWith(typed), `the field has ${typed}, the die is ${choices[1]}`)
})

test('after a reload it is said that undo starts anew, and a skid without runs gives its room to the picture', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const field = page.getByRole('textbox', { name: 'Name of the skid' })
  await field.fill('Renamed')
  await field.press('Enter')
  await page.getByText(/Saved in this browser at/).waitFor()
  const tall = (await page.locator('.stage').boundingBox())!.height
  await page.goto(`${bench.address}?detail=plain`)
  await page.locator('.said', { hasText: /Opened “Renamed”.*undo starts here/i }).waitFor()
  const undo = page.getByRole('button', { name: /^Undo/ })
  holds(await undo.isDisabled(), 'undo is not empty after a reload')
  holds(/not kept/.test((await undo.getAttribute('title')) ?? ''), 'undo does not say why it is empty')
  await files(page, 'New skid')
  await page.locator('.layingOut.no-runs').waitFor()
  equal(await page.locator('.dock').count(), 0, 'panels about a tube that is not there')
  const now = (await page.locator('.stage').boundingBox())!.height
  holds(now > 1.4 * tall, `the picture is ${now} px high, with runs ${tall} px`)
})

/** Everything that any live region of the page is told from now on. */
async function listen(page: Page): Promise<() => Promise<string[]>> {
  await page.evaluate(() => {
    const told: string[] = []
    Object.assign(window, { told })
    const live = '[aria-live]:not([aria-live=off]), [role=status], [role=alert], output:not([aria-live=off])'
    new MutationObserver(records => {
      const regions = new Set<Element>()
      for (const { target } of records) {
        const region = (target instanceof Element ? target : target.parentElement)?.closest(live)
        if (region) regions.add(region)
      }
      for (const region of regions) {
        const text = region.textContent?.trim() ?? ''
        if (text && !region.closest('[aria-hidden=true]')) told.push(text)
      }
    }).observe(document.body, { childList: true, characterData: true, subtree: true })
  })
  return () => page.evaluate(() => (window as unknown as { told: string[] }).told)
}

test('a drag of fifteen moves is announced once, at its end, with what the checks make of it in a sentence of its own', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const at = await standsAt(page, [360, 200, 700])
  const told = await listen(page)
  await page.mouse.move(at.x, at.y)
  await page.mouse.down()
  await page.mouse.move(at.x + 60, at.y - 45, { steps: 15 })
  equal(
    (await told()).filter(t => !/nearest|mm/.test(t)),
    [],
    'announced while the drag lasts',
  )
  const during = (await told()).length
  await page.mouse.up()
  await page.locator('.spoken', { hasText: /^Point 3 moved to x/ }).waitFor({ state: 'attached' })
  const after = (await told()).slice(during)
  equal(after.length, 1, `announcements after the drag: ${after.join(' | ')}`)
  holds(
    / mm\. [A-Z\d]/.test(`${after[0]} `) || /mm\.$/.test(after[0]!),
    `two sentences run together: ${after[0]}`,
  )
  equal(during, 0, 'announcements while the drag lasts')
})

test('selecting a bend or a straight says which of how many it is, its figure and its issues', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await caughtUp(page)
  const spoken = page.locator('.spoken')
  await page.getByRole('rowheader', { name: /^Point 3/ }).click()
  await spoken.getByText(/^Bend 2 of 4, 45°\.$/).waitFor({ state: 'attached' })
  await page.locator('.unrolled .part.straight').last().click()
  await spoken.getByText(/^Straight 5 of 5, 15\.09 mm, 1 issue/).waitFor({ state: 'attached' })
  const name = await page.locator('.unrolled .part.straight').last().getAttribute('aria-label')
  holds(/^Straight 5 of 5: 15\.09 mm, 1 issue/.test(name ?? ''), `the straight is called “${name}”`)
})

test('V and a letter turn the view, V alone none, and the letters stand on the buttons and in the help', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await page.emulateMedia({ reducedMotion: 'reduce' })
  const POINT: Vec3 = [360, 200, 700]
  await page.locator('.scene canvas').focus()
  await page.keyboard.type('vi')
  const iso = await standsAt(page, POINT)
  await page.keyboard.press('v')
  const told = (await page.locator('.said').textContent()) ?? ''
  holds(/T view from the top/.test(told), `after V it says “${told}”`)
  await page.keyboard.press('t')
  const top = await standsElsewhere(page, POINT, iso)
  for (const key of ['Shift+2', 'f', 'Shift+F', 't']) {
    await page.keyboard.press(key)
    const now = await standsAt(page, POINT)
    holds(Math.hypot(now.x - top.x, now.y - top.y) < 1, `${key} alone turned the view`)
  }
  await page.keyboard.type('vi')
  const back = await standsElsewhere(page, POINT, top)
  holds(Math.hypot(back.x - iso.x, back.y - iso.y) < 1, 'V I did not bring the view back')
  const bar = page.getByRole('toolbar', { name: 'Where to look from' })
  equal(
    await bar.locator('kbd').allTextContents(),
    ['V', 'A', 'S', 'I', 'T', 'F', 'R', 'L', 'B', 'U', 'O'],
    'keys on the buttons',
  )
  await page.keyboard.press('?')
  const help = page.getByRole('dialog', { name: 'Shortcuts' })
  await help.getByText('V, then T').waitFor()
})
