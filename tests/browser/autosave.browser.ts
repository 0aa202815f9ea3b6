import { allKept, equal, files, holds, openApp, ready, savedText, test } from './harness.ts'

const nameOf = (page: import('playwright-core').Page) =>
  page.getByRole('textbox', { name: 'Name of the skid' }).inputValue()

async function rename(page: import('playwright-core').Page, to: string): Promise<void> {
  const field = page.getByRole('textbox', { name: 'Name of the skid' })
  await field.fill(to)
  await field.press('Enter')
}

test('after the page is killed the last change is there again', async bench => {
  const { page, context } = await openApp(bench)
  await rename(page, 'Survivor')
  await page.waitForTimeout(300)
  const session = await context.newCDPSession(page)
  const crashed = page.waitForEvent('crash')
  // The page dies before it can answer, so the answer is not waited for.
  void session.send('Page.crash').catch(() => {})
  await crashed
  const again = await openApp(bench, { context })
  equal(await nameOf(again.page), 'Survivor', 'name after the crash')
  await files(again.page, 'Kept in this browser')
  await again.page
    .getByRole('row', { name: /Survivor/ })
    .first()
    .waitFor()
})

test('a second tab on the same document works on its own copy, and neither overwrites the other', async bench => {
  const { page: first, context } = await openApp(bench)
  await rename(first, 'Shared')
  await allKept(first)
  const { page: second } = await openApp(bench, { context })
  equal(await nameOf(second), 'Shared', 'the second tab shows the same skid')
  await second.getByText('own copy').waitFor()
  await rename(second, 'From the second tab')
  await allKept(second)
  await rename(first, 'From the first tab')
  await allKept(first)
  for (const [page, name] of [
    [first, 'From the first tab'],
    [second, 'From the second tab'],
  ] as const) {
    await page.reload()
    await ready(page)
    equal(await nameOf(page), name, 'name after reload')
  }
})

test('where storage is refused editing goes on and a download is one click away', async bench => {
  const { page } = await openApp(bench, {
    before: () => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('storage is off', 'SecurityError')
      }
    },
  })
  await rename(page, 'Kept nowhere')
  await page.getByText(/Not kept: the browser refuses storage/).waitFor()
  const { name, text } = await savedText(page, () =>
    page.getByRole('button', { name: 'Download the skid' }).click(),
  )
  equal(name, 'Kept-nowhere.dogleg.json', 'name of the download')
  equal((JSON.parse(text) as { name: string }).name, 'Kept nowhere', 'name in the download')
  await page.keyboard.press('Alt+n')
  await page.getByRole('dialog', { name: 'This skid is kept nowhere yet' }).waitFor()
  await page.keyboard.press('Escape')
  holds((await nameOf(page)) === 'Kept nowhere', 'the skid was replaced though it is kept nowhere')
})
