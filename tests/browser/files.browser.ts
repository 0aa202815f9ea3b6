import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { equal, files, holds, openApp, openText, savedText, test } from './harness.ts'

const FIRST = readFileSync(resolve(import.meta.dirname, '../../sample-routes/first-route.json'), 'utf8')

test('a damaged file is refused with its reason and place, the open document untouched', async bench => {
  const { page } = await openApp(bench)
  const field = page.getByRole('textbox', { name: 'Name of the skid' })
  await field.fill('Not to be lost')
  await field.press('Enter')
  const bad: [name: string, text: string, says: RegExp][] = [
    ['cut-off.json', FIRST.slice(0, 900), /JSON/],
    ['newer.json', FIRST.replace('"version": 2', '"version": 99'), /version.*99/s],
    [
      'wrong-type.json',
      FIRST.replace('"od": 12', '"od": "twelve"'),
      /benders\[0\]\.tooling\[3\]\.od.*twelve/,
    ],
    ['markup.json', FIRST.replace('"od": 12', '"od": "<img src=x onerror=alert(1)>"'), /onerror/],
  ]
  for (const [file, text, says] of bad) {
    holds(text !== FIRST, `${file} is not damaged at all`)
    await openText(page, file, text)
    const dialog = page.getByRole('dialog', { name: `“${file}” was not opened` })
    await dialog.waitFor()
    const words = (await dialog.textContent()) ?? ''
    holds(says.test(words), `${file}: the dialog says “${words}”`)
    holds((await dialog.locator('img').count()) === 0, 'text of a file became markup')
    await page.keyboard.press('Escape')
    equal(await field.inputValue(), 'Not to be lost', `name after ${file}`)
  }
})

test('what is saved reopens as the same bytes', async bench => {
  const { page } = await openApp(bench)
  const first = await savedText(page, () => files(page, 'Save'))
  equal(first.text, FIRST, 'the sample, saved')
  await page.waitForFunction(
    () => /In file/.test(document.querySelector('.saved')?.textContent ?? ''),
    null,
    {
      polling: 100,
    },
  )
  await openText(page, 'again.json', first.text.replace('Blower to manifold', 'Read again'))
  await page.waitForFunction(
    () => document.querySelector<HTMLInputElement>('.documentName')?.value === 'Read again',
    null,
    { polling: 100 },
  )
  const second = await savedText(page, () => files(page, 'Save'))
  equal(second.name, 'again.json', 'Save goes to the file that was opened')
  equal(second.text.replace('Read again', 'Blower to manifold'), FIRST, 'the reopened file, saved again')
})

test('of a damaged file the sound part can be opened as a new skid, and what is left out is listed first', async bench => {
  const { page } = await openApp(bench)
  const sample = JSON.parse(
    readFileSync(resolve(import.meta.dirname, '../../sample-routes/inch-skid.json'), 'utf8'),
  )
  const [bad, ...good] = sample.runs as { tag: string; tube: { od: unknown } }[]
  bad!.tube.od = 'thick'
  await openText(page, 'damaged.json', JSON.stringify(sample))
  const dialog = page.getByRole('dialog', { name: '“damaged.json” was not opened' })
  await dialog.getByText(`${good.length} of ${good.length + 1} runs`).waitFor()
  await dialog.getByText(new RegExp(`"${bad!.tag}": runs\\[0\\]\\.tube\\.od: found "thick"`)).waitFor()
  equal(
    await page.getByRole('textbox', { name: 'Name of the skid' }).inputValue(),
    'Blower to manifold',
    'what is open before anyone chooses',
  )
  await dialog.getByRole('button', { name: 'Open the sound part as a new skid' }).click()
  await page.locator('.said', { hasText: 'as a new skid, not saved to a file yet' }).waitFor()
  const saved = await savedText(page, () => files(page, 'Save'))
  const tags = (JSON.parse(saved.text) as { runs: { tag: string }[] }).runs.map(r => r.tag)
  equal(
    tags,
    good.map(r => r.tag),
    'the runs of the sound part',
  )
})

test('a file of the first format says what was converted', async bench => {
  const { page } = await openApp(bench)
  await openText(
    page,
    'old.json',
    readFileSync(resolve(import.meta.dirname, '../old-files/version-1.dogleg.json'), 'utf8'),
  )
  await page
    .locator('.said', { hasText: /The file is of format version 1\. Added, and empty: models/ })
    .waitFor()
})

test('storage that the browser may clear has a note once there is something to lose, until it is promised', async bench => {
  const { page } = await openApp(bench, {
    before: () => {
      StorageManager.prototype.persisted = () => Promise.resolve(false)
      StorageManager.prototype.persist = () => Promise.resolve(true)
    },
  })
  const note = page.getByRole('button', { name: 'The browser may clear it' })
  equal(await note.count(), 0, 'notes on a sample that nobody changed')
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Worth keeping')
  await name.press('Enter')
  await note.click()
  await page.locator('.said', { hasText: 'The browser keeps it until you remove it' }).waitFor()
  equal(await note.count(), 0, 'notes once it is promised')
})
