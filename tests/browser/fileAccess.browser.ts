import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Page } from 'playwright-core'
import { allKept, type Bench, equal, files, holds, type Opened, openApp, ready, test } from './harness.ts'

const FIRST = readFileSync(resolve(import.meta.dirname, '../../sample-routes/first-route.json'), 'utf8')
const named = (name: string) => FIRST.replace('"name": "Blower to manifold"', `"name": "${name}"`)

interface Pickers {
  /** The file that the next picker hands over, as if a person chose it. */
  next: string
  /** How often a picker was shown. */
  readonly asked: { open: number; save: number }
  /** As when a person refuses the right to write. */
  refuse: boolean
}
type WithPickers = Window & { pickers: Pickers }

/**
 * Pickers that hand over real handles of the origin's private files: a test cannot answer the system's own, but all
 * that happens after a choice is the browser's real file access. Methods only: the compiler names other functions by a
 * helper that the page does not have.
 */
function handPickers(): void {
  const pickers: Pickers = { next: '', asked: { open: 0, save: 0 }, refuse: false }
  const write = FileSystemFileHandle.prototype.createWritable
  Object.assign(FileSystemFileHandle.prototype, {
    createWritable(this: FileSystemFileHandle, options?: FileSystemCreateWritableOptions) {
      return pickers.refuse
        ? Promise.reject(new DOMException('The request is not allowed', 'NotAllowedError'))
        : write.call(this, options)
    },
  })
  Object.assign(window, {
    pickers,
    async showOpenFilePicker() {
      pickers.asked.open++
      return [await (await navigator.storage.getDirectory()).getFileHandle(pickers.next)]
    },
    async showSaveFilePicker() {
      pickers.asked.save++
      return (await navigator.storage.getDirectory()).getFileHandle(pickers.next, { create: true })
    },
  })
}

const openWithHandles = (bench: Bench): Promise<Opened> => openApp(bench, { before: handPickers })

const choose = (page: Page, next: string) =>
  page.evaluate(n => {
    ;(window as unknown as WithPickers).pickers.next = n
  }, next)
const refuse = (page: Page, refused: boolean) =>
  page.evaluate(r => {
    ;(window as unknown as WithPickers).pickers.refuse = r
  }, refused)
const asked = (page: Page) => page.evaluate(() => (window as unknown as WithPickers).pickers.asked)

const onDisk = (page: Page, name: string) =>
  page.evaluate(async n => {
    const handle = await (await navigator.storage.getDirectory()).getFileHandle(n)
    return (await handle.getFile()).text()
  }, name)

/** Writes a file past the app, as another program would. */
const putOnDisk = (page: Page, name: string, text: string) =>
  page.evaluate(
    async ([n, t]) => {
      const handle = await (await navigator.storage.getDirectory()).getFileHandle(n, { create: true })
      const writable = await handle.createWritable()
      await writable.write(t)
      await writable.close()
    },
    [name, text] as const,
  )

async function rename(page: Page, to: string): Promise<void> {
  const field = page.getByRole('textbox', { name: 'Name of the skid' })
  await field.fill(to)
  await field.press('Enter')
}
const says = (page: Page, words: string) => page.locator('.said', { hasText: words }).waitFor()

test('a file opened by its handle is saved to without asking again, and saved as another', async bench => {
  const { page, troubles } = await openWithHandles(bench)
  await putOnDisk(page, 'skid.json', named('On disk'))
  await choose(page, 'skid.json')
  await files(page, 'Open a file')
  await says(page, 'Opened “skid.json”.')
  for (const name of ['First edit', 'Second edit']) {
    await rename(page, name)
    await files(page, 'Save')
    await page.locator('.saved', { hasText: 'In file “skid.json”' }).waitFor()
    equal(await onDisk(page, 'skid.json'), named(name), `the file after “${name}”`)
  }
  equal(await asked(page), { open: 1, save: 0 }, 'pickers shown by then')

  for (const name of ['Quick', 'Quick again', 'Quick once more']) {
    await rename(page, name)
    await page.keyboard.press('Control+s')
  }
  await page.locator('.saved', { hasText: 'In file “skid.json”' }).waitFor()
  equal(await onDisk(page, 'skid.json'), named('Quick once more'), 'the file after saves in a row')

  await choose(page, 'other.json')
  await rename(page, 'Elsewhere')
  await files(page, 'Save as')
  await says(page, 'Saved to “other.json”.')
  await rename(page, 'Elsewhere again')
  await page.keyboard.press('Control+s')
  await page.locator('.saved', { hasText: 'In file “other.json”' }).waitFor()
  equal(await onDisk(page, 'other.json'), named('Elsewhere again'), 'the other file')
  equal(await onDisk(page, 'skid.json'), named('Quick once more'), 'the first file')
  equal(await asked(page), { open: 1, save: 1 }, 'pickers shown in the end')
  equal(troubles, [], 'what the page complained of')
})

test('where the right to write is refused the reason is told, nothing is lost, and other ways are at hand', async bench => {
  const { page, troubles } = await openWithHandles(bench)
  await choose(page, 'mine.json')
  await files(page, 'Save as')
  await says(page, 'Saved to “mine.json”.')
  await rename(page, 'Refused')
  await refuse(page, true)
  await page.keyboard.press('Control+s')
  const dialog = page.getByRole('dialog', { name: '“mine.json” was not saved' })
  await dialog.getByText('The browser was not given the right to write to this file.').waitFor()
  equal(await onDisk(page, 'mine.json'), FIRST, 'the file that was refused')
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    dialog.getByRole('button', { name: 'Download it' }).click(),
  ])
  equal(readFileSync((await download.path()) ?? '', 'utf8'), named('Refused'), 'the download')
  await allKept(page)
  holds(!/In file/.test((await page.locator('.saved').textContent()) ?? ''), 'a refused file counts as saved')

  await page.keyboard.press('Control+s')
  await dialog.waitFor()
  await refuse(page, false)
  await dialog.getByRole('button', { name: 'Try again' }).click()
  await page.locator('.saved', { hasText: 'In file “mine.json”' }).waitFor()
  equal(await onDisk(page, 'mine.json'), named('Refused'), 'the file once the right is there')

  await rename(page, 'Kept all the same')
  await refuse(page, true)
  await page.keyboard.press('Control+s')
  await dialog.waitFor()
  await page.keyboard.press('Escape')
  await allKept(page)
  await page.reload()
  await ready(page)
  equal(
    await page.getByRole('textbox', { name: 'Name of the skid' }).inputValue(),
    'Kept all the same',
    'the name after a refused save and a reload',
  )
  equal(troubles, [], 'what the page complained of')
})

test('a file changed by someone else is not overwritten before a person says so', async bench => {
  const { page, troubles } = await openWithHandles(bench)
  await choose(page, 'shared.json')
  await files(page, 'Save as')
  await says(page, 'Saved to “shared.json”.')

  // A new date alone, as a copying program leaves it, is no change.
  await putOnDisk(page, 'shared.json', FIRST)
  await rename(page, 'Mine')
  await page.keyboard.press('Control+s')
  await page.locator('.saved', { hasText: 'In file “shared.json”' }).waitFor()
  equal(await onDisk(page, 'shared.json'), named('Mine'), 'the file after a new date alone')

  await putOnDisk(page, 'shared.json', named('Theirs'))
  await rename(page, 'Mine, later')
  await page.keyboard.press('Control+s')
  const dialog = page.getByRole('dialog', { name: '“shared.json” was changed outside this page' })
  await dialog.waitFor()
  await page.keyboard.press('Escape')
  equal(await onDisk(page, 'shared.json'), named('Theirs'), 'the file after Escape')

  await page.keyboard.press('Control+s')
  await choose(page, 'mine.json')
  await dialog.getByRole('button', { name: 'Save to another file' }).click()
  await says(page, 'Saved to “mine.json”.')
  equal(await onDisk(page, 'mine.json'), named('Mine, later'), 'the other file')
  equal(await onDisk(page, 'shared.json'), named('Theirs'), 'the file of the others')

  await choose(page, 'shared.json')
  await files(page, 'Open a file')
  await says(page, 'Opened “shared.json”.')
  await putOnDisk(page, 'shared.json', named('Theirs, later'))
  await rename(page, 'Over theirs')
  await page.keyboard.press('Control+s')
  await dialog.getByRole('button', { name: 'Overwrite it' }).click()
  await page.locator('.saved', { hasText: 'In file “shared.json”' }).waitFor()
  equal(await onDisk(page, 'shared.json'), named('Over theirs'), 'the file after a person said so')
  equal(troubles, [], 'what the page complained of')
})
