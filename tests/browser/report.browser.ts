import { caughtUp, equal, files, holds, openApp, test } from './harness.ts'
import { pdfText } from './pdfText.ts'

test('review report: the PDF has every open finding of the list, with the figure of each gap', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  await caughtUp(page)
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  const list = page.getByRole('listbox', { name: 'Findings' })
  await list.waitFor()
  const open = Number(await page.locator('.review-counts strong').first().textContent())
  holds(open > 0, 'the sample has no open finding')
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Report (PDF)' }).click(),
  ])
  holds(download.suggestedFilename().endsWith('-review.pdf'), `it is called ${download.suggestedFilename()}`)
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  const text = await pdfText(Buffer.concat(parts))
  holds(text.includes(`${open} OPEN FINDINGS`), 'the stamp does not count the open findings')
  holds(text.includes(`Open findings (${open})`), 'the list is not of all open findings')
  holds(text.includes('gap 6.92 mm') && text.includes('overlap 23.00 mm'), 'a gap has no figure')
  holds(!text.includes('NOT FINISHED'), 'a finished check reads as not finished')
  equal(troubles, [], 'the page complained')
})

test('the review report is one of the papers, with its pages shown', async bench => {
  const { page } = await openApp(bench, { query: 'sample=thirty-runs' })
  await caughtUp(page)
  await files(page, 'Paper and files')
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('radio', { name: /^Review report/ }).check()
  await dialog.getByRole('img', { name: 'Page 1 of 3' }).waitFor()
})
