import type { Page } from 'playwright-core'
import { equal, holds, openApp, savedText, test } from './harness.ts'

interface Saved {
  readonly supports: readonly { readonly name: string; readonly at: readonly number[] }[]
}
const supports = async (page: Page): Promise<Saved['supports']> => {
  const { text } = await savedText(page, () => page.keyboard.press('Control+s'))
  return (JSON.parse(text) as Saved).supports
}
const type = async (page: Page, field: string, text: string) => {
  await page.getByRole('textbox', { name: field, exact: true }).focus()
  await page.keyboard.press('Control+a')
  await page.keyboard.type(text)
  await page.keyboard.press('Enter')
}

test('a support is put on a straight, moved, put back, deleted and brought back, by keys alone', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  const before = (await supports(page)).length
  await page
    .getByRole('toolbar', { name: /unrolled/ })
    .getByRole('button', { name: /^Straight 2 of \d+:/ })
    .focus()
  await page.keyboard.press('Enter')
  await page.getByRole('textbox', { name: 'Straight 2' }).waitFor()
  await page.keyboard.press('Escape')
  await page.getByRole('textbox', { name: 'Support at' }).waitFor()
  await type(page, 'Support at', '99999')
  await page
    .getByRole('alert')
    .filter({ hasText: /The straight is/ })
    .waitFor()
  await type(page, 'Support at', '40')
  await page.getByText('On the tube’s centre line, on straight 2.').waitFor()
  const made = await supports(page)
  equal(made.length, before + 1, 'supports after one was added')

  const along = page.getByRole('textbox', { name: 'Along from end A' })
  const from = Number(await along.inputValue())
  await type(page, 'Along from end A', `${from + 10}`)
  const moved = (await supports(page)).at(-1)!
  const far = Math.hypot(...moved.at.map((x, i) => x - made.at(-1)!.at[i]!))
  holds(Math.abs(far - 10) < 0.02, `moved by ${far} mm, wanted 10`)

  await type(page, 'Z', `${moved.at[2]! + 30}`)
  await page.getByText(/off the tube’s centre line/).waitFor()
  await page.getByText(/it does not hold the tube/).waitFor()
  await page.getByRole('button', { name: 'Back onto the tube', exact: true }).press('Enter')
  await page.getByText('On the tube’s centre line', { exact: false }).waitFor()
  holds(
    await page.getByRole('button', { name: 'Back onto the tube', exact: true }).isDisabled(),
    'it is not back',
  )

  await page.locator('.inspect-head, header').getByRole('button', { name: 'Delete' }).first().press('Enter')
  equal((await supports(page)).length, before, 'supports after it was deleted')
  await page.keyboard.press('Control+z')
  equal((await supports(page)).length, before + 1, 'supports after undoing that')
  for (let i = 0; i < 4; i++) await page.keyboard.press('Control+z')
  equal((await supports(page)).length, before, 'supports after undoing everything')
  equal(troubles, [], 'the page complained')
})
