import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import twoBends from '../../sample-routes/two-bends.json' with { type: 'json' }
import { type Bench, equal, holds, type Opened, openApp, openText, savedText, test } from './harness.ts'
import { startBending } from './startBending.ts'

/** CLR of the run in the two-bends sample, mm. */
const SAMPLE_CLR: number = twoBends.runs[0]!.clr

const LANDSCAPE = { width: 1024, height: 768 }
const PORTRAIT = { width: 768, height: 1024 }

interface AtBench {
  readonly sample: string
  readonly colorScheme?: 'light' | 'dark'
  readonly viewport?: { width: number; height: number }
}

/** The app on a tablet, in the bending view of a sample. */
async function openBench(
  bench: Bench,
  { sample, colorScheme = 'light', viewport }: AtBench,
): Promise<Opened> {
  const context = await bench.browser.newContext({
    viewport: viewport ?? LANDSCAPE,
    colorScheme,
    reducedMotion: 'reduce',
  })
  const opened = await openApp(bench, { context, query: `sample=${sample}&mode=bending` })
  await opened.page.getByRole('button', { name: 'Start bending' }).waitFor()
  return opened
}

const done = (page: Page) => page.getByRole('button', { name: 'Done', exact: true })
const heading = async (page: Page) => (await page.locator('.bending-do h2').textContent()) ?? ''
const huge = async (page: Page) => (await page.locator('.bending-huge .figure').textContent()) ?? ''

async function typeOnPad(page: Page, figure: string): Promise<void> {
  for (const key of figure)
    await page.locator('.padKeys').getByRole('button', { name: key, exact: true }).click()
}

/** The marks table of the start page: what a fabricator reads, row by row. */
async function shownMarks(page: Page) {
  const rows = page.locator('.bending-table.marks tbody tr')
  const read: { mark: string; turn: string; wanted: string; dial: string }[] = []
  for (const row of await rows.all()) {
    const cells = await row.locator('td').allTextContents()
    // "124.0 A": the end that it counts from stands with the figure.
    read.push({ mark: cells[2]!.split(' ')[0]!, turn: cells[4]!, wanted: cells[5]!, dial: cells[6]! })
  }
  return read
}

test('a whole tube is bent with nothing but Done and the number pad', async bench => {
  const { page, troubles } = await openBench(bench, { sample: 'two-bends' })
  const marks = await shownMarks(page)
  equal(marks.length, 2, 'bends of the sample')
  const cut = await huge(page)
  await startBending(page)
  equal(await huge(page), cut, 'cut length on the first screen')

  const seen: string[] = []
  for (let i = 0; i < 20 && (await done(page).count()) > 0; i++) {
    const says = await heading(page)
    seen.push(says)
    for (const name of ['Done', 'Back']) {
      const box = await page.getByRole('button', { name, exact: true }).boundingBox()
      holds(box && box.height >= 64, `"${name}" is ${box?.height} px high, wanted at least 64`)
    }
    const step = seen.filter(s => s.startsWith('Slide')).length - 1
    if (says.startsWith('Slide')) equal(await huge(page), `${marks[step]!.mark}mm`, says)
    if (says.startsWith('Rotate')) equal(await huge(page), `${marks[step]!.turn.replace(/[+−]/, '')}°`, says)
    if (says === 'Bend') equal(await huge(page), `${marks[step]!.dial}°`, says)
    if (says === 'Measure the angle after springback') {
      const wanted = Number(marks[step]!.wanted)
      await typeOnPad(page, String(wanted - 8))
      const text = await page.locator('.bending-effect').textContent()
      holds(
        text?.includes('The dial reads 3.0° more than the tube'),
        `stopped 5° short, measured 8° short: ${text}`,
      )
    }
    if (says === 'Continue bending')
      equal(await huge(page), `${(Number(marks[step]!.wanted) + 3).toFixed(1)}°`, says)
    if (says.startsWith('Measure bend')) {
      await typeOnPad(page, String(Number(marks[step]!.wanted) - 0.5))
      const effect = await page.locator('.bending-effect').textContent()
      holds(
        /−0\.5° from the finished angle.*: with end A in its port, end B misses by \d+\.\d mm \(.*[XYZ] [+−]\d+\.\d.*\)( and points \d\.\d° off line)?\./.test(
          effect ?? '',
        ),
        `where the other end comes: ${effect}`,
      )
    }
    await done(page).click()
  }
  equal(seen.filter(s => s.startsWith('Slide')).length, 2, 'slides')
  holds((await heading(page)).includes('2 bends are made'), 'the tube is not finished')
  equal(await page.getByRole('cell', { name: '−0.5' }).count(), 2, 'measured deviations on the last page')
  equal(troubles, [], 'troubles')
})

interface StepRead {
  readonly which: string
  readonly heading: string
  readonly says: string
  readonly words: string
  /** What the small picture says, or ''. */
  readonly picture: string
}

/** Every screen of a run's tube in an order of one's own, without measuring. */
async function everyScreen(page: Page, tag: string, order: string, onPart: boolean): Promise<StepRead[]> {
  await page.getByRole('combobox', { name: 'run' }).selectOption({
    value: (await page
      .getByRole('combobox', { name: 'run' })
      .locator('option')
      .evaluateAll(
        (options, wanted) =>
          options.find(o => o.textContent?.startsWith(wanted))?.getAttribute('value') ?? '',
        tag,
      )) as string,
  })
  const own = page.getByRole('textbox', { name: 'custom order' })
  await own.fill(order)
  await own.press('Enter')
  if (onPart) await page.getByRole('radio', { name: /each measured on the part/ }).check()
  await page.getByRole('radio', { name: 'never', exact: true }).check()
  await startBending(page)
  const read: StepRead[] = []
  const text = async (selector: string) => (await page.locator(selector).allTextContents()).join(' ')
  for (let i = 0; i < 60 && (await done(page).count()) > 0; i++) {
    const picture = page.locator('.bending-do .bending-picture')
    read.push({
      which: await text('.bending-which'),
      heading: await heading(page),
      says: await text('.bending-do .says'),
      words: await text('.bending-do .bending-word'),
      picture: (await picture.count()) > 0 ? ((await picture.getAttribute('aria-label')) ?? '') : '',
    })
    await done(page).click()
  }
  return read
}

test('in a mixed order every step says which end goes in, names end or bend of its mark, and pictures the leg that is there', async bench => {
  const { page, troubles } = await openBench(bench, { sample: 'thirty-runs' })
  const screens = await everyScreen(page, 'AF-201', '4A 1A 3A 2A', true)
  const marks = screens.filter(s => / mark \d$/.test(s.heading))
  equal(
    marks.map(s => [s.which.slice(0, 6), s.heading, s.says, s.words]),
    [
      [
        'Bend 4',
        'Slide to mark 4',
        'from end A, on the straight stock',
        'End A towards the clamp; mark 4 on the die line',
      ],
      [
        'Bend 1',
        'Put in at mark 1',
        'from end A, on the part',
        'End A towards the clamp; mark 1 on the die line',
      ],
      ['Bend 3', 'Slide to mark 3', 'from the back of bend 1', 'Mark 3 on the die line'],
      [
        'Bend 2',
        'Put in at mark 2',
        'from the back of bend 1',
        'End A towards the clamp; mark 2 on the die line',
      ],
    ],
    'what the screens say of the marks',
  )
  const turns = screens.filter(s => s.heading === 'Rotate the tube')
  equal(
    turns.map(s => s.picture.replace(/^.*bender: /, '')),
    [
      // The only bend made lies behind the die: from the die's side, on the left, it comes to straight up.
      'leg 5, on your side of the die, goes from 270.0° to 0.0° clockwise from straight up',
      'leg 5, on your side of the die, goes from 0.0° to 90.0° clockwise from straight up; leg 1, beyond the die, goes from 270.0° to 0.0° clockwise from straight up',
      'leg 4, on your side of the die, goes from 270.0° to 0.0° clockwise from straight up; leg 1, beyond the die, goes from 0.0° to 90.0° clockwise from straight up',
    ],
    'what the turn pictures show',
  )
  equal(troubles, [], 'troubles')
})

test('each time another end goes in first that is said before the slide, the turn and the mark', async bench => {
  const { page, troubles } = await openBench(bench, { sample: 'first-route' })
  const screens = await everyScreen(page, 'AE-101', '1A 2A 4B 3B', false)
  const around = screens.filter(s => s.heading === 'Turn the tube end for end')
  equal(
    around.map(s => s.words),
    ['Keep it flat and turn it end for end; end B now goes in first.'],
    'turns end for end',
  )
  equal(
    screens.filter(s => / mark \d$/.test(s.heading)).map(s => [s.says, s.words]),
    [
      ['from end A, on the straight stock', 'End A towards the clamp; mark 1 on the die line'],
      ['from end A, on the straight stock', 'Mark 2 on the die line'],
      ['from end B, on the straight stock', 'End B towards the clamp; mark 4 on the die line'],
      ['from end B, on the straight stock', 'Mark 3 on the die line'],
    ],
    'what the screens say of the marks',
  )
  equal(troubles, [], 'troubles')
})

test('a tube that end B leads is held at end B: the other end misses, and either can be held', async bench => {
  const { page, troubles } = await openBench(bench, { sample: 'two-bends' })
  await page.getByRole('textbox', { name: 'custom order' }).fill('2B 1A')
  await page.getByRole('textbox', { name: 'custom order' }).press('Enter')
  await page.getByRole('radio', { name: 'never', exact: true }).check()
  await startBending(page)
  for (let i = 0; i < 10 && !(await heading(page)).startsWith('Measure bend'); i++) await done(page).click()
  const wanted = Number(
    /finished angle ([\d.]+)°/.exec((await page.locator('.bending-wanted').textContent()) ?? '')![1],
  )
  await typeOnPad(page, String(wanted - 1))
  const says = async () => (await page.locator('.farEnd p').textContent()) ?? ''
  const missOf = async (held: string, misses: string) => {
    const found = new RegExp(`with end ${held} in its port, end ${misses} misses by (\\d+\\.\\d) mm`).exec(
      await says(),
    )
    holds(found, `the far end with end ${held} held: ${await says()}`)
    return Number(found?.[1])
  }
  const atB = await missOf('B', 'A')
  await page.getByRole('button', { name: 'Hold end A instead' }).click()
  const atA = await missOf('A', 'B')
  holds(atA !== atB, `both ends miss by ${atA} mm`)
  equal(troubles, [], 'troubles')
})

test('after a reload the bench is at the same screen with what was measured', async bench => {
  const { page } = await openBench(bench, { sample: 'two-bends' })
  await startBending(page)
  for (const wanted of ['Cut', 'Slide', 'Bend, but stop short']) {
    holds((await heading(page)).startsWith(wanted), `${wanted} is not shown`)
    await done(page).click()
  }
  await typeOnPad(page, '108')
  await done(page).click()
  const [says, figure] = [await heading(page), await huge(page)]
  await page.goto(`${bench.address}?detail=plain&sample=two-bends`)
  await page.locator('.bending-do h2').waitFor()
  equal([await heading(page), await huge(page)], [says, figure], 'screen after the reload')
})

test('a run that hits the bender says motion, angle, part, solid and depth, and the best order clears it', async bench => {
  const { page } = await openBench(bench, { sample: 'first-route' })
  const verdict = page.locator('.bending-verdict').first()
  // The order that clears is in use by itself; the other one says what it hits.
  await page.locator('.bending-order tr.chosen').getByText('B 4 3 2 1', { exact: true }).first().waitFor()
  await page.getByRole('button', { name: 'Use A first' }).click()
  await page.locator('.bending-verdict.contact').first().waitFor()
  holds(
    /hits the bender at bend 3: bending at \d+\.\d°: straight \d and bench top meet, \d+\.\d mm deep/.test(
      (await verdict.textContent()) ?? '',
    ),
    `verdict: ${await verdict.textContent()}`,
  )
  await page.getByRole('button', { name: 'Use Proposed order' }).click()
  await page.waitForFunction(() => document.querySelector('.bending-verdict:not(.contact)') !== null, null, {
    polling: 100,
  })
  equal(await page.locator('.bending-verdict.contact').count(), 0, 'contacts left in the best order')

  await page.getByRole('button', { name: 'Use A first' }).click()
  await startBending(page)
  for (let i = 0; i < 30; i++) {
    const which = (await page.locator('.bending-which').allTextContents())[0] ?? ''
    if (which.startsWith('Bend 3') && (await heading(page)) === 'Bend') break
    await done(page).click()
  }
  const frozen = page.locator('.hitSays')
  await frozen.waitFor()
  holds(/bending at .*bench top meet/.test((await frozen.textContent()) ?? ''), 'contact is not frozen in 3D')
})

test('a test bend shows what it changes, is one undo, and stops a tube that was begun before', async bench => {
  const { page } = await openBench(bench, { sample: 'two-bends' })
  await startBending(page)
  await done(page).click()
  await page.getByRole('button', { name: 'Start page' }).click()
  const before = await shownMarks(page)
  await page.getByRole('tab', { name: 'Test bend' }).click()
  const settled = SAMPLE_CLR + 0.6
  await page.getByRole('radio', { name: 'to where the centre lines cross' }).check()
  const piece: Record<string, number> = {
    stock: 300,
    mark: 124,
    dial: 93.2,
    measured: 90,
    'leg A': 120 + settled,
    'leg B': 300 - 120 - settled + (2 - Math.PI / 2) * settled,
  }
  for (const [name, value] of Object.entries(piece))
    await page.getByRole('textbox', { name: new RegExp(`^${name}`) }).fill(String(value))
  await page.getByText('What this changes').waitFor()
  holds(/→/.test((await page.locator('.bending-test').textContent()) ?? ''), 'no changed mark is shown')
  await page.getByRole('button', { name: 'Apply test bend' }).click()
  await page.getByRole('tab', { name: 'Run' }).click()
  holds(JSON.stringify(await shownMarks(page)) !== JSON.stringify(before), 'marks are as before')
  await page.getByRole('button', { name: /^Continue/ }).click()
  await page.getByRole('heading', { name: 'The figures changed since this tube was started' }).waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  holds((await heading(page)).startsWith('Slide'), 'after the undo the tube goes on')
  await page.getByRole('button', { name: 'Start page' }).click()
  equal(await shownMarks(page), before, 'marks after the undo')
})

test('where only the arm’s way back meets the tube that is said with what helps, and a bender that lets it out first is clear', async bench => {
  // Stands on the arm ahead of the tube's front: clear while bending, in the way when the arm goes back.
  const post = {
    shape: 'cylinder',
    name: 'angle gauge',
    at: [204, 54, -20],
    axis: [0, 0, 1],
    length: 70,
    radius: 12,
  }
  const benders = twoBends.benders.map(b => ({ ...b, arm: [...b.arm, post] }))
  const context = await bench.browser.newContext({ viewport: LANDSCAPE, reducedMotion: 'reduce' })
  const { page, troubles } = await openApp(bench, { context, query: 'sample=two-bends' })
  await openText(page, 'gauge.json', JSON.stringify({ ...twoBends, benders }))
  await page.getByText(/while the arm returns after bend 1, with the arm at \d+\.\d°/i).waitFor()
  await page.getByRole('button', { name: 'Bend', exact: true }).click()
  await page.getByRole('button', { name: 'Use Proposed order' }).click()
  await page.locator('.bending-verdict.contact', { hasText: 'arm returning at' }).first().waitFor()
  await startBending(page)
  for (let i = 0; i < 12 && !(await heading(page)).startsWith('Slide'); i++) await done(page).click()
  await page.locator('.bending-calls li.contact', { hasText: 'arm returning' }).waitFor()
  const calls = page.locator('.bending-calls')
  equal(await calls.locator('li.contact').count(), 1, 'motions of the first step that hit')
  holds(
    /Remove the tube before returning the arm, if this bender opens far enough: it comes out with \d+\.\d mm to spare/.test(
      (await calls.locator('.callHelp').textContent()) ?? '',
    ),
    'no word on what helps',
  )
  await calls.getByRole('button', { name: 'Show' }).click()
  await page.getByRole('button', { name: '✕ arm back', pressed: true }).waitFor()
  await page.locator('.hitSays').waitFor()

  await page.getByRole('button', { name: 'Start page' }).click()
  await page.getByRole('tab', { name: 'Bender' }).click()
  await page.getByRole('combobox', { name: 'After each bend' }).selectOption({ label: 'tube out first' })
  await page.getByRole('tab', { name: 'Run' }).click()
  await page.waitForFunction(() => document.querySelector('.bending-verdict:not(.contact)') !== null, null, {
    polling: 100,
  })
  equal(await page.locator('.bending-verdict.contact').count(), 0, 'contacts with the tube out first')
  await page.getByText('After each bend, remove the tube before returning the arm').waitFor()
  const kept = JSON.parse((await savedText(page, () => page.keyboard.press('Control+s'))).text)
  equal(kept.benders[0].tubeOutFirst, true, 'what the file says')
  equal(troubles, [], 'troubles')
})

test('a bender of one’s own without solids or springback is bent on by the trials made on the piece', async bench => {
  const { page } = await openBench(bench, { sample: 'two-bends' })
  await page.getByRole('combobox', { name: 'bender' }).selectOption('own')
  const reading = async () => (await shownMarks(page)).map(m => m.dial)
  await page
    .getByText(/clamp grip, follower length, reference offset and stop of Custom bender.* not measured/)
    .waitFor()
  holds(await page.getByRole('button', { name: 'Start bending' }).isDisabled(), 'begun with nothing measured')
  await page.getByRole('tab', { name: 'Bender' }).click()
  for (const [name, figure] of [
    ['clamp grip, first', '30'],
    ['follower, first', '36'],
    ['reference offset, first', '3'],
    ['stop, first', '190'],
  ] as const) {
    const field = page.getByRole('textbox', { name })
    equal(await field.inputValue(), '', `${name} before it is measured`)
    await field.fill(figure)
    await field.press('Enter')
  }
  await page.getByRole('tab', { name: 'Run', exact: true }).click()
  await page.getByText('springback is not known').waitFor()
  equal(await reading(), ['not known', 'not known'], 'dial readings before any trial')
  await startBending(page)
  await done(page).click()
  const calls = await page.locator('.bending-calls').textContent()
  holds(calls?.includes('not checked') && !calls.includes('clear '), `close calls without solids: ${calls}`)
  const wanted = Number.parseFloat(
    (await page.locator('.wantedSmall', { hasText: 'finished angle' }).textContent())?.match(/[\d.]+/)?.[0] ??
      '',
  )
  for (let i = 0; i < 12 && (await heading(page)) !== 'Bend'; i++) {
    if ((await heading(page)) === 'Measure the angle after springback')
      await typeOnPad(page, String(wanted - 8))
    await done(page).click()
  }
  const second = Number.parseFloat(
    (await page.locator('.wantedSmall', { hasText: 'finished angle' }).textContent())?.match(/[\d.]+/)?.[0] ??
      '',
  )
  equal(await huge(page), `${(second + 3).toFixed(1)}°`, 'dial of the second bend by the one trial')
})

for (const [colorScheme, viewport] of [
  ['light', LANDSCAPE],
  ['dark', PORTRAIT],
] as const)
  test(`the bending view breaks no accessibility rule and fits ${viewport.width} × ${viewport.height} in ${colorScheme} colours`, async bench => {
    const { page } = await openBench(bench, { sample: 'first-route', colorScheme, viewport })
    const fits = async (what: string) => {
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
      holds(wide <= 0, `${what}: ${wide} px wider than the screen`)
    }
    const check = async (what: string) => {
      await fits(what)
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .analyze()
      equal(
        violations.map(v => `${v.id}: ${v.nodes[0]?.target.join(' ')}`),
        [],
        `${what}: rules broken`,
      )
    }
    for (const tab of ['Trials', 'Test bend', 'Bender', 'Run']) {
      await page.getByRole('tab', { name: tab }).click()
      await (colorScheme === 'light' ? check : fits)(tab)
    }
    await startBending(page)
    const checked = new Set<string>()
    for (let i = 0; i < 10; i++) {
      const says = (await heading(page)).replace(/\d/, '')
      if (!checked.has(says)) await (colorScheme === 'dark' ? check : fits)(says)
      checked.add(says)
      await done(page).click()
    }
    holds(checked.has('Rotate the tube'), 'no turn was looked at')
  })
