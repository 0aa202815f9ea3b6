import type { Page } from 'playwright-core'
import twoBends from '../../sample-routes/two-bends.json' with { type: 'json' }
import { type Bench, equal, holds, openApp, openText, test } from './harness.ts'
import { printsOver } from './printsOver.ts'
import { startBending } from './startBending.ts'

const TABLET = { width: 1024, height: 768 }

async function openBench(bench: Bench, sample: string, viewport = TABLET, colorScheme?: 'dark' | 'light') {
  const context = await bench.browser.newContext({
    viewport,
    reducedMotion: 'reduce',
    ...(colorScheme ? { colorScheme } : {}),
  })
  const opened = await openApp(bench, { context, query: `sample=${sample}&mode=bending` })
  await opened.page.getByRole('button', { name: 'Start bending' }).waitFor()
  return opened
}
const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true }).click()
const heading = async (page: Page) => (await page.locator('.bending-do h2').textContent()) ?? ''
const question = (page: Page) => page.locator('.bending-ask')
async function goTo(page: Page, start: string): Promise<void> {
  for (let i = 0; i < 30; i++) {
    if ((await heading(page)).startsWith(start)) return
    await press(page, 'Done')
  }
  throw new Error(`no screen begins with “${start}”`)
}
const figure = (page: Page, name: string) => page.getByRole('textbox', { name, exact: true })

test('a slip of the decimal is asked about before it bends the tube, by keyboard alone', async bench => {
  const { page, troubles } = await openBench(bench, 'two-bends')
  await startBending(page)
  await goTo(page, 'Measure the angle after springback')
  const dial = Number(await figure(page, 'dial reached').inputValue())
  const right = dial - 3
  await page.keyboard.type(String(right / 10))
  await page.keyboard.press('Enter')
  await question(page).waitFor()
  const says = (await question(page).textContent()) ?? ''
  holds(says.includes(`${right / 10}° measured where about`), `question: ${says}`)
  holds(/the dial target would then be \d+\.\d°\. Use .* or correct\?/.test(says), `question: ${says}`)
  // The first answer, “Correct”, has the keyboard; what was typed is still there.
  await page.keyboard.press('Enter')
  equal(await figure(page, 'measured angle').inputValue(), String(right / 10), 'typed figure kept')
  await page.keyboard.press('Control+a')
  await page.keyboard.type(String(right))
  await page.keyboard.press('Enter')
  equal(await heading(page), 'Continue bending', 'after the figure was corrected')

  await goTo(page, 'Measure bend')
  await page.keyboard.type('4.5')
  await page.keyboard.press('Enter')
  await question(page).waitFor()
  holds((await question(page).textContent())?.includes('4.5° measured where about'), 'finish not asked about')
  await press(page, 'Use 4.5°')
  holds(!(await heading(page)).startsWith('Measure'), 'a figure that is meant is used')
  equal(troubles, [], 'troubles')
})

test('an overbent bend asks how far the dial went, and any trial is left out and put back', async bench => {
  const { page } = await openBench(bench, 'two-bends')
  await startBending(page)
  await goTo(page, 'Measure bend')
  const was = Number(await figure(page, 'dial reached').inputValue())
  const wanted = Number.parseFloat((await page.locator('.bending-wanted').textContent())!.match(/[\d.]+/)![0])
  await figure(page, 'measured angle').fill(String(wanted + 3))
  await press(page, 'Done')
  holds(
    (await question(page).textContent())?.includes('3.0° more than required'),
    `question: ${await question(page).textContent()}`,
  )
  await press(page, 'Type the dial reading')
  await figure(page, 'dial reached').fill((was + 3.2).toFixed(1))
  await press(page, 'Done')
  await goTo(page, 'Measure bend')
  await press(page, 'Done')
  const trials = page.locator('.bending-table.trials tbody tr')
  equal(await trials.count(), 1, 'trials')
  equal(await trials.first().locator('td').nth(2).textContent(), (was + 3.2).toFixed(1), 'dial of the trial')

  // A second one that contradicts it is shown in words and in the plot.
  await page.getByRole('textbox', { name: 'dial °' }).fill('90')
  await page.getByRole('textbox', { name: 'measured °' }).fill('50')
  await press(page, 'Add a trial')
  holds(
    (await question(page).textContent())?.startsWith('50° measured'),
    'a doubtful trial is not asked about',
  )
  await press(page, 'Use')
  equal(await trials.count(), 2, 'trials')
  holds((await trials.first().textContent())?.includes('what the other one gives'), 'outlier not in words')
  equal(await page.locator('.bending-plot .off').count(), 2, 'outliers in the plot')
  const odd = page.getByRole('checkbox', { name: /another piece, counts/ })
  await odd.uncheck()
  equal(await page.locator('.bending-plot .off').count(), 0, 'outliers with it left out')
  equal(await trials.count(), 2, 'a trial left out is still listed')
  await page.reload()
  await page.locator('.bending-table.trials').waitFor()
  holds(!(await odd.isChecked()), 'left out is forgotten by a reload')
  await odd.check()
  equal(await page.locator('.bending-plot .off').count(), 2, 'put back')
})

test('a run that is not released is begun only by a name, and says so at the cut and at the end', async bench => {
  const { page } = await openBench(bench, 'first-route')
  const note = page.locator('.bending-release')
  await page.locator('.bending-release.open').waitFor()
  holds((await note.textContent())?.includes('NOT RELEASED: 1 open finding'), 'start page')
  holds((await note.textContent())?.includes('8.91 mm missing'), 'what it is')
  await press(page, 'Start bending')
  const start = page.getByRole('button', { name: 'Start unreleased' })
  holds(await start.isDisabled(), 'begun without a word')
  await page.getByRole('checkbox', { name: 'I have read this' }).check()
  holds(await start.isDisabled(), 'begun without a name')
  await page.keyboard.press('Escape')
  equal(await page.locator('.bending-steps').count(), 0, 'Escape begins nothing')
  await startBending(page, 'P. Prüfer')
  holds((await note.textContent())?.includes('P. Prüfer continues anyway'), 'cut page')
  await goTo(page, 'AE-101: all 4 bends are made')
  holds((await note.textContent())?.includes('NOT RELEASED'), 'end page')
  holds(!/is bent/.test((await page.locator('.bending-left').textContent()) ?? ''), 'says that it is bent')
})

test('the step whose bend hits says so on every screen before it, and its chip does', async bench => {
  const { page } = await openBench(bench, 'first-route')
  await press(page, 'Use A first')
  await startBending(page)
  holds((await page.locator('.bending-strip li', { hasText: '✕' }).count()) > 0, 'no chip warns')
  for (const li of await page.locator('.bending-strip li').all()) {
    const says = (await li.textContent()) ?? ''
    holds(/cut|finished|\d \d+\.\d°/.test(says), `a chip without its bend: ${says}`)
  }
  for (let i = 0; i < 30; i++) {
    if ((await page.locator('.bending-which').allTextContents())[0]?.startsWith('Bend 3')) break
    await press(page, 'Done')
  }
  holds(
    (await page.locator('.bending-hits').textContent())?.includes('This bend hits the bender'),
    'not said',
  )
})

test('in mid-job going on is first; a new piece puts the old one away, and it comes back with all that was measured', async bench => {
  const { page } = await openBench(bench, 'two-bends')
  await startBending(page)
  await goTo(page, 'Measure bend')
  const wanted = (await page.locator('.bending-wanted').textContent())!.match(/[\d.]+/)![0]
  await figure(page, 'measured angle').fill(wanted)
  await press(page, 'Done')
  const before = await heading(page)
  await press(page, 'Start page')
  equal(await page.getByRole('button', { name: 'Start bending' }).count(), 0, '“Start bending” beside work')
  holds(
    await page
      .getByRole('button', { name: /^Continue at bend/ })
      .evaluate(b => b.classList.contains('primary')),
    'going on is not the first button',
  )
  await press(page, 'Start a new piece…')
  holds(
    (await page.getByRole('dialog').textContent())?.includes('1 angle is measured'),
    'what would be put away is not said',
  )
  await press(page, 'Start a new piece')
  equal(await heading(page), 'Cut the stock and mark it', 'the new piece')
  await press(page, 'Start page')
  await press(page, 'Restore the previous piece')
  await page.waitForFunction(
    says =>
      document.querySelector('.bending-do h2')?.textContent === says ||
      document.querySelector('.bending-start'),
    before,
    { polling: 100 },
  )
  if ((await page.locator('.bending-start').count()) > 0)
    await page.getByRole('button', { name: /^Continue/ }).click()
  equal(await heading(page), before, 'where the old piece was left')
  // Another order is for another piece, too: that is asked, not done.
  await press(page, 'Start page')
  await press(page, 'Use B first')
  await question(page).waitFor()
  await press(page, 'Keep the order in use')
  const [kept] = await page.locator('.bending-order tr.chosen').allTextContents()
  holds(kept?.includes('A first'), `order changed: ${kept}`)
})

test('after an edit it is said which made bends stand otherwise, and going on with a lost piece is deliberate', async bench => {
  const { page } = await openBench(bench, 'two-bends')
  await startBending(page)
  for (let i = 0; i < 12; i++) {
    if ((await page.locator('.bending-which').allTextContents())[0]?.includes('step 2')) break
    await press(page, 'Done')
  }
  const [run] = twoBends.runs
  // End A farther out along its own leg: the first straight is longer, so bend 1 lies too near to end A.
  const [first] = run!.vertices
  const endA = run!.endA as { kind: string; at?: readonly number[]; fitting?: string }
  const from = endA.at ?? twoBends.fittings.find(f => f.id === endA.fitting)!.position
  const length = Math.hypot(...first!.at.map((v, i) => v - from[i]!))
  const moved = from.map((v, i) => v + ((v - first!.at[i]!) / length) * 40)
  const next = {
    ...twoBends,
    runs: [{ ...run, endA: { kind: 'free', at: moved } }],
  }
  await openText(page, 'longer.json', JSON.stringify(next))
  await press(page, 'Bend')
  await page.getByRole('heading', { name: 'The figures changed since this tube was started' }).waitFor()
  const says = (await page.locator('.bending-changed').textContent()) ?? ''
  holds(/Bend 1 lies \d+\.\d mm too near to end A/.test(says), `made bend: ${says}`)
  holds(/The stock is \d+\.\d mm too short/.test(says), `stock: ${says}`)
  const onward = page.getByRole('button', { name: 'Continue anyway' })
  holds(await onward.isDisabled(), 'a lost piece goes on without a word')
  await page.getByRole('checkbox', { name: 'I know that it will not be this run' }).check()
  await onward.click()
  holds((await page.locator('.bending-which').textContent())?.includes('step 2'), 'goes on elsewhere')
})

test('a new bender has no figure that nobody measured, and one that fits no bench is asked about', async bench => {
  const { page } = await openBench(bench, 'two-bends')
  await page.getByRole('combobox', { name: 'bender' }).selectOption('own')
  await page.getByRole('tab', { name: 'Bender' }).click()
  for (const name of ['clamp grip', 'follower', 'reference offset', 'stop'])
    equal(await figure(page, `${name}, first`).inputValue(), '', name)
  await page.locator('.bending-sketch').getByText('clamp grip').waitFor()
  const grip = figure(page, 'clamp grip, first')
  await grip.fill('300')
  await grip.press('Enter')
  await page
    .getByText(/A clamp grip of 300 mm for a tube of .* would be usual\. Use or correct\?/)
    .first()
    .waitFor()
  await grip.press('Control+a')
  await grip.pressSequentially('30')
  await grip.press('Enter')
  equal(
    await page.getByRole('button', { name: 'Use it', exact: true }).count(),
    0,
    'a usual figure is asked about',
  )
  const offset = figure(page, 'reference offset, first')
  await offset.fill('500')
  await offset.press('Enter')
  await press(page, 'Use it')
  equal(await offset.inputValue(), '500', 'a figure that is meant')
  await page.getByRole('tab', { name: 'Run', exact: true }).click()
  await page.getByText(/follower length and stop of Custom bender.* not measured/).waitFor()
  holds(await page.getByRole('button', { name: 'Start bending' }).isDisabled(), 'begun half measured')
})

test('a test bend that contradicts record or geometry is asked about, its legs are taped either way, and it says what it cannot tell', async bench => {
  const { page } = await openBench(bench, 'two-bends')
  await page.getByRole('tab', { name: 'Test bend' }).click()
  const [die] = twoBends.benders[0]!.tooling.filter(t => t.od === twoBends.runs[0]!.tube.od)
  const { clr, od } = die!
  const gain = (2 - Math.PI / 2) * clr
  const piece = { stock: 300, mark: 120 + die!.referenceOffset, dial: 93, measured: 90 }
  const legs = { A: 120 + clr, B: 300 - 120 - clr + gain }
  const fill = async (figures: Record<string, number>) => {
    for (const [name, value] of Object.entries(figures))
      await page.getByRole('textbox', { name: new RegExp(`^${name}`) }).fill(String(value))
  }
  const shown = async () => (await page.locator('.bending-test td.strong').allTextContents()).map(Number)
  await page.getByRole('radio', { name: /centre lines/ }).check()
  await fill({ ...piece, 'leg A': legs.A, 'leg B': legs.B })
  const byCentre = await shown()
  holds(Math.abs(byCentre[1]! - clr) < 0.05, `CLR ${byCentre[1]}, wanted ${clr}`)
  await page.getByRole('radio', { name: /back of the bend/ }).check()
  await fill({ 'leg A': legs.A + od / 2, 'leg B': legs.B + od / 2 })
  equal(await shown(), byCentre, 'taped to the back of the bend')
  await page.getByText('cannot tell a larger radius from more stretch').waitFor()
  const apply = page.getByRole('button', { name: 'Apply test bend' })
  holds(await apply.isEnabled(), 'a sound piece is asked about')
  for (const [wrong, says] of [
    [{ dial: 930 }, 'more than one whole turn'],
    [{ dial: 90, measured: 93 }, 'are the two swapped'],
    [{ dial: 93, measured: 90, mark: 120 + 115.4 }, 'from the start of bend on a die'],
  ] as const) {
    await fill(wrong)
    await page.locator('.bending-test .bending-warn', { hasText: says }).waitFor()
    holds(await apply.isDisabled(), `${says}: applied without a word`)
  }
  await fill({ mark: 301 })
  await page.getByText(/Mark: found 301 mm, wanted one on the stock of 300 mm/).waitFor()
  await fill({ mark: 123, 'leg A': 140, 'leg B': 140 })
  const warn = (await page.locator('.bending-test .bending-warn').textContent()) ?? ''
  holds(
    /shorter than the stock/.test(warn) && !/\d\.\d{4}/.test(warn),
    `figures as a person writes them: ${warn}`,
  )
})

for (const [name, viewport, colorScheme] of [
  ['tablet', TABLET, 'light'],
  ['tablet upright', { width: 768, height: 1024 }, 'dark'],
  ['phone', { width: 390, height: 844 }, 'light'],
] as const)
  for (const sample of ['first-route', 'algae-manifold'])
    test(`on a ${name} nothing in the bending view prints over anything or runs out, ${sample}`, async bench => {
      const { page } = await openBench(bench, sample, viewport, colorScheme)
      const told: string[] = []
      const look = async (what: string) => {
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
        if (wide > 0) told.push(`${what}: ${wide} px wider than the screen`)
        for (const over of await printsOver(page, 'main')) told.push(`${what}: ${over}`)
      }
      for (const tab of ['Trials', 'Test bend', 'Bender', 'Run']) {
        await page.getByRole('tab', { name: tab, exact: true }).click()
        await look(tab)
      }
      await startBending(page)
      const high = viewport.height
      for (let i = 0; i < 40; i++) {
        const says = await heading(page)
        await look(says)
        for (const button of await page.locator('.bending-foot button').all()) {
          const box = (await button.boundingBox())!
          if (box.height < 64) told.push(`${says}: a button of ${box.height} px`)
          if (box.y + box.height > high + 1) told.push(`${says}: a button out of sight`)
        }
        const small = await page
          .locator('.bending-steps :is(.bending-word, .bending-huge .says)')
          .evaluateAll(all =>
            all
              .filter(e => Number.parseFloat(getComputedStyle(e).fontSize) < 28)
              .map(e => e.textContent ?? ''),
          )
        told.push(...small.map(s => `${says}: “${s}” cannot be read from afar`))
        const head = (await page.locator('.bending-head').boundingBox())!
        if (head.height > high * 0.16) told.push(`${says}: the head takes ${head.height} px`)
        if ((await page.getByRole('button', { name: 'Done', exact: true }).count()) === 0) break
        await press(page, 'Done')
      }
      equal([...new Set(told)], [], 'seen')
    })
