import type { Page } from 'playwright-core'
import { equal, holds, openApp, test } from './harness.ts'
import { findingsSay, nothingWrong, shownBends } from './story.ts'

const straights = async (page: Page) => (await shownBends(page)).map(b => b.straight)
const undo = (page: Page) => page.keyboard.press('Control+z')
const undoIsOff = (page: Page) => page.getByRole('button', { name: /^Undo/ }).isDisabled()
const part = (page: Page, name: RegExp) =>
  page.getByRole('toolbar', { name: /unrolled/ }).getByRole('button', { name })

test('on the unrolled tube a straight is walked to, typed and undone by keys alone', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  const before = await straights(page)
  await part(page, /^Straight 1 of \d+:/).focus()
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('Enter')
  await page.getByRole('textbox', { name: 'Straight 2' }).waitFor()
  await page.keyboard.type('100+2*40')
  await page.keyboard.press('Enter')
  equal((await straights(page))[1], 180, 'straight 2 after the sum was typed')
  holds(
    await part(page, /^Straight 2 of \d+: 180 mm/).evaluate(e => e === document.activeElement),
    'the keyboard lost its place on the tube',
  )
  await page.keyboard.press('+')
  equal((await straights(page))[1], 181, 'straight 2 after one step up')
  await undo(page)
  await undo(page)
  equal(await straights(page), before, 'straights after two undos')
  holds(await undoIsOff(page), 'typing and one step were more than two steps of history')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a figure that cannot be stays in its field with the reason, and Escape gives the old one back', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await part(page, /^Bend 2 of \d+:/).click()
  const field = page.getByRole('textbox', { name: 'Bend 2' })
  await field.waitFor()
  await page.keyboard.type('200')
  await page.keyboard.press('Enter')
  equal(await field.inputValue(), '200', 'what was typed')
  equal(await field.getAttribute('aria-invalid'), 'true', 'aria-invalid')
  await page.getByRole('alert').filter({ hasText: 'less than 180' }).waitFor()
  await page.keyboard.press('Escape')
  holds(await undoIsOff(page), 'a refused figure became a step')
  equal((await shownBends(page))[1]?.angle, 45, 'the angle')
})

test('dragging a bend’s edge is one step, and Escape while dragging none', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const before = await straights(page)
  const grip = page.locator('[data-grip="1"] .hit:not(.for-finger)')
  const pull = async () => {
    const box = await grip.boundingBox()
    holds(box, 'straight 2 has no grip')
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width / 2 + 25, box.y + box.height / 2, { steps: 4 })
  }
  await pull()
  holds((await straights(page))[1] !== before[1], 'the drag did not show in the table')
  await page.keyboard.press('Escape')
  await page.mouse.up()
  equal(await straights(page), before, 'straights after Escape')
  holds(await undoIsOff(page), 'Escape left a step')
  await pull()
  await page.mouse.up()
  const pulled = (await straights(page))[1] ?? 0
  holds(pulled > before[1]! && Number.isInteger(pulled), `straight 2 is ${pulled}, wanted a longer whole mm`)
  await undo(page)
  equal(await straights(page), before, 'straights after one undo')
})

test('a finding’s fix mends it as one step and leaves both ends in their ports', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await findingsSay(page, /straight 5.*24 mm/is)
  const before = await straights(page)
  await page.getByRole('button', { name: /^Lengthen straight 5/ }).click()
  await nothingWrong(page)
  equal((await straights(page)).at(-1), 24, 'the last straight')
  equal(
    await page
      .getByRole('grid', { name: /^Points of/ })
      .locator('select')
      .evaluateAll(all => all.map(s => (s as HTMLSelectElement).value !== '')),
    [true, true],
    'ends in ports',
  )
  await undo(page)
  equal(await straights(page), before, 'straights after one undo')
})

test('points copied from the table are pasted back over it unchanged, and a bad figure is refused by its place', async bench => {
  const { page, context } = await openApp(bench, { query: 'sample=first-route' })
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  const rows = () =>
    page
      .getByRole('grid', { name: /^Points of/ })
      .locator('td[data-col="1"]')
      .allInnerTexts()
  const before = await rows()
  const first = page.getByRole('grid', { name: /^Points of/ }).locator('[data-row="0"][data-col="1"]')
  await first.focus()
  await page.keyboard.press('Control+c')
  await page.keyboard.press('Control+v')
  await page.getByText(/points pasted/).waitFor()
  equal(await rows(), before, 'X of all points')
  await page.evaluate(() => navigator.clipboard.writeText('1\t2\t3\n4\t1,5\t6'))
  await page.keyboard.press('Control+v')
  await page.getByRole('alert').filter({ hasText: 'row 2, column 2' }).waitFor()
  equal(await rows(), before, 'X of all points after the refused paste')
})
