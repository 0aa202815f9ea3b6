import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import AxeBuilder from '@axe-core/playwright'
import { equal, holds, openApp, openText, test } from './harness.ts'

const name = { name: 'Name of the skid' }

test('undo and redo say what they do and go both ways', async bench => {
  const { page } = await openApp(bench)
  const field = page.getByRole('textbox', name)
  await field.fill('Renamed skid')
  await field.press('Enter')
  await page.getByRole('button', { name: 'Undo' }).click()
  equal(await field.inputValue(), 'Blower to manifold', 'name after undo')
  holds(
    (await page.locator('.said').textContent())?.includes('Rename the skid'),
    'the undone step is not named',
  )
  await page.getByRole('button', { name: 'Redo' }).click()
  equal(await field.inputValue(), 'Renamed skid', 'name after redo')
  await page.locator('body').click({ position: { x: 2, y: 2 } })
  await page.keyboard.press('Control+z')
  equal(await field.inputValue(), 'Blower to manifold', 'name after Ctrl+Z')
  await page.keyboard.press('Control+Shift+Z')
  equal(await field.inputValue(), 'Renamed skid', 'name after Ctrl+Shift+Z')
})

test('the menus and dialogs work by keyboard alone', async bench => {
  const { page } = await openApp(bench)
  await page.getByRole('button', { name: 'Files' }).focus()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('s')
  equal(await page.locator(':focus').textContent(), 'Samples…Alt+S', 'entry found by its first letter')
  await page.keyboard.press('Enter')
  await page.getByRole('dialog', { name: 'Samples' }).waitFor()
  await page.keyboard.press('Escape')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.keyboard.press('?')
  await page.getByRole('dialog', { name: 'Shortcuts' }).waitFor()
  await page.keyboard.press('Escape')
  await page.keyboard.press('F6')
  holds(await page.evaluate(() => document.activeElement !== document.body), 'F6 moved the focus nowhere')
})

test('the unit switch changes what is shown and not the document', async bench => {
  const { page } = await openApp(bench)
  // The last to come: it is tried out when the page is idle.
  const fix = page.getByRole('button', { name: 'Lengthen straight 5 by 8.91 mm' })
  await fix.waitFor()
  const before = await page.evaluate(() => document.querySelector('main')?.textContent)
  await page.getByRole('button', { name: 'Decimal inches' }).click()
  await page.waitForFunction(text => document.querySelector('main')?.textContent !== text, before, {
    polling: 100,
  })
  equal(await page.getByRole('button', { name: 'Undo' }).isDisabled(), true, 'the unit switch made no step')
  await page.getByRole('button', { name: 'Millimetres' }).click()
  await fix.waitFor()
  equal(await page.evaluate(() => document.querySelector('main')?.textContent), before, 'back in mm')
})

for (const scheme of ['light', 'dark'] as const)
  test(`no accessibility rule is broken in ${scheme} colours`, async bench => {
    const { page } = await openApp(bench, { colorScheme: scheme })
    equal(await page.evaluate(() => document.documentElement.getAttribute('data-theme')), scheme, 'colours')
    const check = async (what: string) => {
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .analyze()
      const list = violations.map(
        v => `${v.id}: ${v.help} at ${v.nodes.map(n => n.target.join(' ')).join('; ')}`,
      )
      holds(list.length === 0, `${what}:\n${list.join('\n')}`)
    }
    await check('laying out')
    for (const mode of ['Bend', 'Review']) {
      await page.getByRole('button', { name: mode, exact: true }).click()
      await page.locator('main:not(.loading)').waitFor()
      await check(mode)
    }
    await page.getByRole('button', { name: 'Layout', exact: true }).click()
    await page.keyboard.press('?')
    await page.getByRole('dialog', { name: 'Shortcuts' }).waitFor()
    await check('shortcut sheet')
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Files' }).click()
    await check('files menu')
  })

test('a figure nine zeros too large is refused beside its cell, and the page goes on', async bench => {
  const { page, troubles } = await openApp(bench)
  const cell = page
    .getByRole('grid', { name: /points/i })
    .locator('[data-row="1"][data-col="1"]')
    .first()
  await cell.click()
  await page.keyboard.type('1000000000')
  await page.keyboard.press('Enter')
  await page
    .getByText(/the length is too large: wanted at most 1 km/)
    .first()
    .waitFor()
  await page.keyboard.press('Escape')
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Still here')
  await name.press('Enter')
  await page.locator('.saved', { hasText: 'Saved in this browser' }).waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a file with a tube or a box past all sizes is refused with its places', async bench => {
  const { page } = await openApp(bench)
  const file = JSON.parse(
    readFileSync(resolve(import.meta.dirname, '../../sample-routes/first-route.json'), 'utf8'),
  )
  file.runs[0].tube.od = 1e300
  file.solids.push({
    id: 'huge',
    name: 'Huge',
    kind: 'equipment',
    fitting: null,
    shape: 'box',
    at: [0, 0, 0],
    size: [1e300, 1, 1],
    turn: [0, 0, 0],
  })
  await openText(page, 'huge.json', JSON.stringify(file))
  const dialog = page.getByRole('dialog')
  await dialog
    .getByText(/runs\[0\]\.tube\.od/)
    .first()
    .waitFor()
  await dialog
    .getByText(/at most 1 m \(1000 mm\)/)
    .first()
    .waitFor()
  await dialog
    .getByText(/a length of at most 1 km/)
    .first()
    .waitFor()
})
