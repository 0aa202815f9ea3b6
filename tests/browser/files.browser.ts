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
