import { askCommandLine } from './commandLine.ts'
import { caughtUp, equal, holds, openApp, savedText, test } from './harness.ts'

/** The gap between two runs of a document as the command line measures it, mm. */
async function gapByCommandLine(text: string, a: string, b: string): Promise<number | undefined> {
  const { pairs } = (await askCommandLine('clearance', text)) as {
    pairs: { a: string; b: string; clearance: number }[]
  }
  return pairs.find(p => [p.a, p.b].sort().join() === [a, b].sort().join())?.clearance
}

test('a gap that is too small is mended by keyboard alone: ghost, one step, the figure of the command line', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  await caughtUp(page)
  await page.getByRole('button', { name: 'Review', exact: true }).press('Enter')
  const saved = async () => (await savedText(page, () => page.keyboard.press('Control+s'))).text
  const search = page.getByRole('searchbox', { name: 'Search the findings' })
  await search.fill('WS-205 WS-206')
  const list = page.getByRole('listbox', { name: 'Findings' })
  const rows = list.getByRole('option')
  equal(await rows.count(), 1, 'findings between the two runs')
  await search.press('Tab')
  for (let n = 0; n < 8 && !(await rows.first().evaluate(row => row === document.activeElement)); n++)
    await page.keyboard.press('Tab')
  await page.keyboard.press('Home')
  const doIt = page.getByRole('button', { name: /^Apply: Move/ }).first()
  await doIt.waitFor({ timeout: 30_000 })
  for (let n = 0; n < 30 && !(await doIt.evaluate(b => b === document.activeElement)); n++)
    await page.keyboard.press('Tab')
  holds(await doIt.evaluate(b => b === document.activeElement), 'the way is not reached by Tab')
  const way = page.locator('.mend-ways li').first()
  holds((await way.getAttribute('class'))?.includes('shown') ?? false, 'the way in focus is not shown')
  const promised = Number(/[\d.]+/.exec((await way.locator('dd').first().textContent()) ?? '')?.[0])
  const before = await saved()
  await page.keyboard.press('Enter')
  await rows.first().waitFor({ state: 'detached', timeout: 30_000 })
  await caughtUp(page)
  equal(await rows.count(), 0, 'the finding is mended')
  const after = await saved()
  const gap = await gapByCommandLine(after, 'WS-205', 'WS-206')
  holds(
    gap !== undefined && Math.abs(gap - promised) <= 0.005 + 1e-9,
    `the way promised ${promised} mm, the command line measures ${gap} mm`,
  )
  await page.keyboard.press('Control+z')
  await rows.first().waitFor({ timeout: 30_000 })
  equal(await saved(), before, 'one undo gives the document back')
  equal(troubles, [], 'the page complained')
})
