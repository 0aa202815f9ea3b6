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
  await files(again.page, 'Saved in this browser')
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
  await page.getByText(/Not saved: the browser refuses storage/).waitFor()
  const { name, text } = await savedText(page, () =>
    page.getByRole('button', { name: 'Download the skid' }).click(),
  )
  equal(name, 'Kept-nowhere.dogleg.json', 'name of the download')
  equal((JSON.parse(text) as { name: string }).name, 'Kept nowhere', 'name in the download')
  await page.keyboard.press('Alt+n')
  await page.getByRole('dialog', { name: 'Not saved yet' }).waitFor()
  await page.keyboard.press('Escape')
  holds((await nameOf(page)) === 'Kept nowhere', 'the skid was replaced though it is kept nowhere')
})

/** The names of the skids that this browser keeps, as its own storage has them. */
const keptNames = (page: import('playwright-core').Page) =>
  page.evaluate(
    () =>
      new Promise<string[]>((done, fail) => {
        const opening = indexedDB.open('dogleg')
        opening.onerror = () => fail(opening.error)
        opening.onsuccess = () => {
          const all = opening.result.transaction('copies').objectStore('copies').getAll()
          all.onsuccess = () => done((all.result as { name: string }[]).map(copy => copy.name))
          all.onerror = () => fail(all.error)
        }
      }),
  )

test('while Ctrl+Z is held, what is kept follows before it is let go', async bench => {
  const { page } = await openApp(bench)
  for (let i = 1; i <= 8; i++) await rename(page, `Edit ${i}`)
  await allKept(page)
  await page.locator('body').click({ position: { x: 2, y: 2 } })
  await page.keyboard.down('Control')
  let kept: string[] = []
  // A key that is held repeats some thirty times a second; now and then a step is done again, so that there always is one to undo.
  for (let press = 0; press < 120 && !kept.some(name => /^Edit [1-7]$/.test(name)); press++) {
    await page.keyboard.down(press % 10 < 8 ? 'z' : 'y')
    await page.waitForTimeout(30)
    kept = await keptNames(page)
  }
  holds(
    kept.some(name => /^Edit [1-7]$/.test(name)),
    `with Ctrl+Z held nothing newer was kept than ${kept.join(', ')}`,
  )
  await page.keyboard.up('Control')
})
