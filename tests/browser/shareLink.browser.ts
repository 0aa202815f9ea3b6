import { readFileSync } from 'node:fs'
import { readDocument } from '../../src/document/readDocument.ts'
import { documentIn, linkTo } from '../../src/store/shareLink.ts'
import { equal, files, holds, openApp, ready, test } from './harness.ts'

function sample(name: string) {
  const read = readDocument(readFileSync(`sample-routes/${name}.json`, 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  return read.document
}
const nameOnScreen = (page: import('playwright-core').Page) =>
  page.getByRole('textbox', { name: 'Name of the skid' }).inputValue()

test('a link holds the whole skid, and opening it keeps what was open before', async bench => {
  const { page, context } = await openApp(bench)
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await page.getByRole('textbox', { name: 'Name of the skid' }).fill('My own skid')
  await page.getByRole('textbox', { name: 'Name of the skid' }).press('Enter')
  await files(page, 'Copy a link')
  await page.getByText('is on the clipboard').waitFor()
  const link = await page.evaluate(() => navigator.clipboard.readText())
  const held = await documentIn(new URL(link).hash)
  holds(held.kind === 'document' && held.document.name === 'My own skid', 'the link does not hold the skid')

  const other = await linkTo(sample('two-bends'), bench.address)
  holds(other.ok, 'the sample is too long for a link')
  await page.goto(`${other.link.replace('#', '?detail=plain#')}`)
  await ready(page)
  equal(await nameOnScreen(page), sample('two-bends').name, 'the document of the link')
  await page.reload()
  await ready(page)
  await files(page, 'Saved in this browser')
  await page.getByRole('dialog').getByText('My own skid').waitFor()
})

test('a damaged link is refused with its reason, and what was kept opens as always', async bench => {
  const { page } = await openApp(bench)
  const made = await linkTo(sample('two-bends'), bench.address)
  holds(made.ok, 'the sample is too long for a link')
  await page.goto(`${bench.address}?detail=plain&x=1${new URL(made.link).hash.slice(0, 300)}`)
  await page
    .getByRole('dialog')
    .getByText(/cut off/)
    .waitFor()
  holds((await nameOnScreen(page)) !== sample('two-bends').name, 'half a document was opened')
})
