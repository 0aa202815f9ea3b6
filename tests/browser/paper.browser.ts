import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { caughtUp, equal, files, goOffline, holds, openApp, test } from './harness.ts'
import { pdfText } from './pdfText.ts'

async function saved(page: Page, button: string): Promise<{ name: string; data: Buffer }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('dialog').getByRole('button', { name: button }).click(),
  ])
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  return { name: download.suggestedFilename(), data: Buffer.concat(parts) }
}
const choose = (page: Page, make: string) =>
  page
    .getByRole('dialog')
    .getByRole('radio', { name: new RegExp(`^${make}`) })
    .check()

test('paper and files: the sheet is previewed as it will be printed, and every file can be saved', async bench => {
  const { page, troubles } = await openApp(bench)
  await caughtUp(page)
  await files(page, 'Paper and files')
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('img', { name: 'Page 1 of 3' }).waitFor()
  const sheet = await saved(page, 'Save fabrication sheet')
  equal(sheet.data.subarray(0, 5).toString(), '%PDF-', 'the head of the sheet')
  holds(sheet.name.endsWith('.pdf'), `the sheet is called ${sheet.name}`)

  await choose(page, 'Marking strip')
  await dialog.getByRole('img', { name: 'Page 1 of 1' }).waitFor()
  const strip = (await saved(page, 'Save marking strip')).data.toString('latin1')
  holds(strip.includes('/PrintScaling /None'), 'the strip lets the printer scale it')
  await dialog.getByLabel('X bar').fill('99.6')
  await dialog.getByLabel('Y bar').fill('a lot')
  await dialog.getByText('A bar is a length').waitFor()
  await dialog.getByLabel('Y bar').fill('')
  await dialog.getByLabel('Printer', { exact: true }).fill('upstairs')
  const corrected = await pdfText((await saved(page, 'Save marking strip')).data)
  holds(
    /CORRECTED for printer “upstairs” whose bars measured X 99\.6 mm and Y 100 mm/.test(corrected),
    `the strip does not say that it is corrected: ${corrected}`,
  )

  await choose(page, 'STEP')
  const step = (await saved(page, 'Save step')).data.toString()
  holds(step.startsWith('ISO-10303-21;') && step.includes('AE-101'), 'the STEP file does not name the run')
  await choose(page, 'Points')
  equal(
    (await saved(page, 'Save points')).data.toString().split(/\r?\n/)[0],
    'x,y,z',
    'the head of the points',
  )
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('the preview prints nothing over anything else, whatever font the machine has', async bench => {
  const { page } = await openApp(bench)
  await caughtUp(page)
  await files(page, 'Paper and files')
  const picture = page.getByRole('dialog').getByRole('img', { name: /^Page 1 of/ })
  await picture.waitFor()
  const over = await picture.evaluate(async img => {
    const svg = await (await fetch((img as HTMLImageElement).src)).text()
    // A font half as wide again as the one that the page was laid out for.
    const holder = document.createElement('div')
    holder.innerHTML = svg
      .replaceAll(/font-family="[^"]*"/g, 'font-family="monospace"')
      .replace(/^<\?xml[^>]*>/, '')
    document.body.append(holder)
    const texts = [...holder.querySelectorAll('text')].filter(t => !t.hasAttribute('transform'))
    const boxes = texts.map(t => ({
      says: t.textContent,
      box: t.getBBox(),
      size: Number(t.getAttribute('font-size')),
    }))
    const found: string[] = []
    for (const [i, a] of boxes.entries())
      for (const b of boxes.slice(i + 1)) {
        // Letters without the room above and below them: fonts differ in that.
        const level =
          Math.abs(a.box.y + a.box.height - b.box.y - b.box.height) < 0.6 * Math.min(a.size, b.size)
        const across = Math.min(a.box.x + a.box.width, b.box.x + b.box.width) - Math.max(a.box.x, b.box.x)
        if (level && across > 0.15) found.push(`"${a.says}" and "${b.says}"`)
      }
    holder.remove()
    return { found, count: boxes.length }
  })
  holds(over.count > 50, `only ${over.count} texts were looked at`)
  equal(over.found, [], 'texts over each other in the preview')
})

test('names in Latin, Greek and Cyrillic stand in the preview as in the PDF, without a network too', async bench => {
  const { page, context, troubles } = await openApp(bench)
  await goOffline({ page, context })
  const name = page.getByRole('textbox', { name: 'Name of the skid' })
  await name.fill('Zbiornik ŁĄŚ, Ψύξη, Водяная рама 管')
  await name.press('Enter')
  await caughtUp(page)
  await files(page, 'Paper and files')
  await choose(page, 'Review report')
  const picture = page.getByRole('dialog').getByRole('img', { name: /^Page 1 of/ })
  await picture.waitFor()
  const shown = await picture.evaluate(async img => (await fetch((img as HTMLImageElement).src)).text())
  const pdf = await pdfText((await saved(page, 'Save review report')).data)
  for (const [where, text] of [
    ['preview', shown],
    ['PDF', pdf],
  ] as const) {
    holds(text.includes('Zbiornik ŁĄŚ, Ψύξη, Водяная рама ?'), `the ${where} has the name otherwise: ${text}`)
    holds(text.includes('1 character of the names used here'), `the ${where} does not say what it lacks`)
  }
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a PDF whose font cannot be loaded is refused with the reason, and comes once it can', async bench => {
  const context = await bench.browser.newContext({ serviceWorkers: 'block' })
  await context.route(/\.deflated$/, route => route.fulfill({ status: 404 }))
  const { page } = await openApp(bench, { context })
  await caughtUp(page)
  await files(page, 'Paper and files')
  await choose(page, 'Marking strip')
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('button', { name: 'Save marking strip' }).click()
  await dialog.getByText('writing the PDF: found 404 for the').waitFor()
  await context.unroute(/\.deflated$/)
  const { data } = await saved(page, 'Save marking strip')
  equal(data.subarray(0, 5).toString(), '%PDF-', 'the head of the strip')
})

test('what cannot be printed says why, and the dialog is accessible', async bench => {
  const { page } = await openApp(bench, { query: 'sample=cannot-be-made' })
  await files(page, 'Paper and files')
  const dialog = page.getByRole('dialog')
  await choose(page, 'Marking strip')
  await dialog.getByRole('combobox', { name: /^Run/ }).selectOption('')
  await dialog.getByText(/wanted one run/).waitFor()
  const { violations } = await new AxeBuilder({ page }).include('dialog').analyze()
  equal(
    violations.map(v => v.id),
    [],
    'accessibility of the dialog',
  )
})

test('sheet and strip go by the order that was checked, and say so of another; the shop’s tolerances stay', async bench => {
  const { page, troubles, context } = await openApp(bench, { query: 'sample=first-route' })
  await caughtUp(page)
  await page.keyboard.press('Control+p')
  const dialog = page.getByRole('dialog')
  const order = dialog.getByRole('combobox', { name: 'Order of the bends' })
  const sheet = async () => pdfText((await saved(page, 'Save fabrication sheet')).data)
  equal(await order.locator('option:checked').textContent(), 'Proposed: end B first', 'the order offered')
  const checked = await sheet()
  for (const said of [
    /Put in, end B towards the clamp/,
    /1 open finding/,
    /pinch points/,
    /Keep to the order of this sheet/,
  ])
    holds(said.test(checked), `the sheet does not say ${said}: ${checked}`)

  await order.selectOption('A')
  // The very order is judged beside the page; until then the sheet has what the checks know of it.
  const judged = /In this order: making bend 3 at [\d.]+°, straight 1 runs [\d.]+ mm into the bench top/
  let other = await sheet()
  for (const until = Date.now() + 15_000; !judged.test(other) && Date.now() < until; other = await sheet())
    holds(/In this order: hits the bench top/.test(other), `the sheet of end A hides what it hits: ${other}`)
  for (const said of [judged, /Put in, end A towards the clamp/, /NOT RELEASED/])
    holds(said.test(other), `the sheet of end A does not say ${said}: ${other}`)
  await choose(page, 'Marking strip')
  const strip = await pdfText((await saved(page, 'Save marking strip')).data)
  holds(/from end A/.test(strip), `the strip is of another order: ${strip}`)

  await choose(page, 'Fabrication sheet')
  const straights = dialog.getByRole('textbox', { name: 'Straights ±' })
  await straights.fill('-1')
  await straights.press('Enter')
  await dialog.getByText('0 or more.').waitFor()
  await straights.fill('1/32in')
  await straights.press('Enter')
  holds(/Straights ±0\.79 mm\./.test(await sheet()), 'the tolerance is not on the sheet')

  const { page: later } = await openApp(bench, { context, query: 'sample=first-route' })
  await caughtUp(later)
  await later.keyboard.press('Control+p')
  equal(
    await later.getByRole('dialog').getByRole('textbox', { name: 'Straights ±' }).inputValue(),
    '0.79',
    'the tolerance on another day',
  )
  equal(troubles, [], 'the page complained')
})
