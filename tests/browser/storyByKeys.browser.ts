import type { Page } from 'playwright-core'
import { caughtUp, equal, holds, openApp, ready, savedText, test } from './harness.ts'
import {
  findingsSay,
  nothingWrong,
  STORY,
  sameFigures,
  selectNothing,
  shownBends,
  solveByCommandLine,
} from './story.ts'

/** What a screen reader would call the focused thing: group, then name. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const el = document.activeElement as HTMLInputElement | null
    if (!el || el === document.body) return ''
    const own = el.getAttribute('aria-label') ?? el.labels?.[0]?.textContent ?? el.textContent ?? ''
    return `${el.closest('fieldset')?.querySelector('legend')?.textContent ?? ''} ${own}`.trim()
  })

/** Goes on by Tab, and back by Shift+Tab when the page's end comes first. */
async function tabTo(page: Page, wanted: RegExp): Promise<void> {
  const seen: string[] = []
  for (const key of ['Tab', 'Shift+Tab'])
    for (let i = 0; i < 90; i++) {
      await page.keyboard.press(key)
      const name = await focused(page)
      if (wanted.test(name)) return
      if (name === '') break
      seen.push(name)
    }
  throw new Error(`Tab never came to ${wanted}; it passed ${seen.slice(0, 60).join(' · ')}`)
}

/** Types over what is in the focused field and takes it. */
async function typeOver(page: Page, value: string): Promise<void> {
  await page.keyboard.press('Control+a')
  await page.keyboard.type(value)
  await page.keyboard.press('Enter')
}

/** Walks by arrow keys, inside the grid that has the focus, to a row and column counted from 0. */
async function walkTo(page: Page, row: number, col: number): Promise<void> {
  for (let i = 0; i < 40; i++) {
    const at = await page.evaluate(() => {
      const cell = document.activeElement?.closest('[data-row]')
      return cell ? [Number(cell.getAttribute('data-row')), Number(cell.getAttribute('data-col'))] : null
    })
    holds(at, `the focus left the table on the way to row ${row}, column ${col}`)
    const [r, c] = at as [number, number]
    if (r === row && c === col) return
    await page.keyboard.press(
      r < row ? 'ArrowDown' : r > row ? 'ArrowUp' : c < col ? 'ArrowRight' : 'ArrowLeft',
    )
  }
  throw new Error(`the arrow keys never came to row ${row}, column ${col}`)
}

async function typeCell(page: Page, row: number, col: number, value: string): Promise<void> {
  await walkTo(page, row, col)
  await page.keyboard.press('F2')
  await typeOver(page, value)
  await page.waitForFunction(
    () =>
      document.activeElement instanceof HTMLInputElement === false &&
      document.activeElement?.hasAttribute('data-row'),
    null,
    { polling: 50 },
  )
}

test('the same by keyboard alone', async bench => {
  const { page, troubles } = await openApp(bench)
  await page.keyboard.press('Alt+n')
  await page.getByText('nothing to check', { exact: true }).waitFor()
  await caughtUp(page)
  for (const port of STORY.ports) {
    // The additions are one stop of Tab: the arrow keys go through them.
    await tabTo(page, /^Note$/)
    await page.keyboard.press('Tab')
    equal(await focused(page), 'Run', 'the first addition')
    await page.keyboard.press('ArrowRight')
    equal(await focused(page), 'Fitting', 'the addition after Run')
    await page.keyboard.press('Enter')
    // The button went away with what it changed; the keyboard's place did not leave the panel.
    await page.getByRole('region', { name: 'Properties' }).getByLabel(/^Kind/).waitFor()
    holds(
      await page.evaluate(() => document.activeElement?.closest('[aria-label="Properties"]') !== null),
      'the focus left the panel',
    )
    await tabTo(page, /^Kind/)
    await page.keyboard.type('Compression port, 6 mm')
    for (const [i, part] of ['X', 'Y', 'Z'].entries()) {
      await tabTo(page, new RegExp(`^Centre of the port.*${part}$`))
      await typeOver(page, port.at[i]!)
    }
    await tabTo(page, /^Axis/)
    await typeOver(page, port.axis.join(', '))
    await selectNothing(page)
  }
  await tabTo(page, /^Run$/)
  await page.keyboard.press('Enter')
  await tabTo(page, /^Add$/)
  await page.keyboard.press('Enter')
  await page.getByRole('grid', { name: /^Points of/ }).waitFor()
  await tabTo(page, /^(End|Point) \w, X/)
  await page.keyboard.press('ArrowDown')
  const points = page.getByRole('grid', { name: /^Points of/ }).locator('tbody tr')
  for (let n = await points.count(); n !== 6; n = await points.count()) {
    await walkTo(page, 1, 1)
    await page.keyboard.press(n < 6 ? 'Insert' : 'Delete')
  }
  for (const [i, point] of STORY.points.entries())
    for (const [c, value] of point.entries()) await typeCell(page, i + 1, c + 1, value)

  await findingsSay(page, STORY.short)
  await typeCell(page, 4, 1, STORY.mended)
  await nothingWrong(page)

  const shown = await shownBends(page)
  equal(shown.length, 5, 'rows of the bend table')
  const saved = await savedText(page, () => page.keyboard.press('Control+s'))
  sameFigures(shown, await solveByCommandLine(saved.text))

  await page.keyboard.press('Alt+n')
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Control+o')])
  await chooser.setFiles({ name: saved.name, mimeType: 'application/json', buffer: Buffer.from(saved.text) })
  await ready(page)
  await page.getByRole('grid', { name: /^Bends of/ }).waitFor()
  equal(await shownBends(page), shown, 'the reopened bend table')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})
