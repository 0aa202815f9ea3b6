import { writeDocument } from '../../src/document/writeDocument.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'
import { caughtUp, equal, holds, openApp, openText, test } from './harness.ts'

const LONG = `DR-${'1234567890'.repeat(500)}`
const ALIKE = [
  'Pump skid base plate of the feed water station, west',
  'Pump skid base plate of the feed water station, east',
]
const OVERRIDE = 'AE-\u202egpj.exe'

/** Two boxes whose names begin alike, each hit by a tube; a tag of 5,000 characters; a tag that turns what follows round. */
function skid(): string {
  const lane = (id: string, tag: string, y: number) => ({
    ...runOf(id, [], { endA: { kind: 'free', at: [0, y, 0] }, endB: { kind: 'free', at: [500, y, 0] } }),
    tag,
  })
  const document = documentOf([lane('one', LONG, 0), lane('two', OVERRIDE, 300)])
  return writeDocument({
    ...document,
    name: 'Skid \u202ednе',
    solids: ALIKE.map((name, i) => ({
      ...{ id: `s${i}`, name, kind: 'equipment', fitting: null, shape: 'box' },
      ...{ at: [250, 150, 0], size: [100, 312 + i, 40], turn: [0, 0, 0] },
    })),
  })
}

test('long, alike and turned-round names can be told apart and push nothing out; what a search leaves out is counted', async bench => {
  const { page, troubles } = await openApp(bench)
  await page.setViewportSize({ width: 1024, height: 768 })
  await openText(page, 'long.json', skid())
  await caughtUp(page)
  const inside = (what: string) =>
    page.locator(what).evaluateAll(
      elements =>
        elements.filter(e => {
          const panel = e.closest('section, aside, main')!.getBoundingClientRect()
          const box = e.getBoundingClientRect()
          return box.right > panel.right + 1 || box.left < panel.left - 1
        }).length,
    )
  const wide = () =>
    page.evaluate(() =>
      document.documentElement.scrollWidth <= innerWidth
        ? []
        : [...document.querySelectorAll('body *')].flatMap(e => {
            const { left, right } = e.getBoundingClientRect()
            return right > innerWidth + 1 ? [`${e.tagName} ${e.className} ${left}…${right}`] : []
          }),
    )
  const shot = process.env['SHOTS']
  if (shot) await page.screenshot({ path: `${shot}/laying.png` })
  equal(await wide(), [], 'what the page scrolls sideways for')
  equal(
    await inside('.run-row .number, .totals dd, .finding-figures, .inspect-actions'),
    0,
    'figures out of their panel',
  )
  await page.getByText('AE-[U+202E]gpj.exe').first().waitFor()
  equal(
    await page.getByRole('textbox', { name: 'Name of the skid' }).inputValue(),
    'Skid [U+202E]dnе',
    'the name of the skid',
  )
  await page
    .getByRole('button', { name: /^Review/ })
    .first()
    .click()
  const rows = page.getByRole('listbox', { name: 'Findings' }).getByRole('option')
  await rows.first().waitFor()
  await caughtUp(page)
  if (shot) await page.screenshot({ path: `${shot}/review.png` })
  equal(await inside('.review-figures, .review-row'), 0, 'figures out of the list')
  // What is in sight of each row: the ends of both names, which are never cut.
  const seen = await rows.evaluateAll(list =>
    list.map(row =>
      [...row.querySelectorAll<HTMLElement>('.middle-cut-start, .middle-cut-end')]
        .map(e => (e.scrollWidth > e.clientWidth + 1 ? `${e.textContent!.slice(0, 4)}…` : e.textContent))
        .join(''),
    ),
  )
  for (const end of ['west', 'east'])
    holds(
      seen.some(text => text.endsWith(end)),
      `no row ends in ${end}: ${seen.join(' | ').slice(0, 500)}`,
    )
  equal(new Set(seen).size, seen.length, 'rows that look the same')
  holds(
    (await page.locator('.review-parts').first().getAttribute('title'))!.includes(' and '),
    'no tooltip with both names',
  )

  const all = await rows.count()
  const search = page.getByRole('searchbox', { name: 'Search the findings' })
  await search.fill('nothing has this')
  await page.getByText(`Nothing matches “nothing has this”. ${all} findings are not listed.`).waitFor()
  await page.getByRole('button', { name: 'Show all' }).click()
  equal(await rows.count(), all, 'rows when all are shown')
  equal(await search.inputValue(), '', 'the search when all are shown')
  equal(troubles, [], 'what the page complained of')
})

test('notes can be left out of the review, and how many are not listed is said', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await page
    .getByRole('button', { name: /^Review/ })
    .first()
    .click()
  const rows = page.getByRole('listbox', { name: 'Findings' }).getByRole('option')
  await rows.first().waitFor()
  await caughtUp(page)
  const all = await rows.count()
  const notes = page.getByRole('checkbox', { name: /^Notes \(\d+\)$/ })
  const count = Number(/\d+/.exec((await page.locator('.review-notes label').textContent())!)![0])
  holds(count > 0 && count < all, `${count} notes of ${all} findings`)
  await notes.uncheck()
  equal(await rows.count(), all - count, 'rows without notes')
  await page.getByText(`${count} of ${all} not listed`).waitFor()
  await notes.check()
  equal(await rows.count(), all, 'rows with notes')
  equal(troubles, [], 'what the page complained of')
})
