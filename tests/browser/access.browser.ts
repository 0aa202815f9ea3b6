import type { Page } from 'playwright-core'
import { fewRunsText } from './fewRuns.ts'
import { equal, files, holds, openApp, openText, test } from './harness.ts'
import { openFew } from './openFew.ts'

/** Least width and height of what is pressed, px: with a pointer (WCAG 2.2, 2.5.8) and with a finger. */
const LEAST = { pointer: 24, finger: 44 } as const

/**
 * What is smaller than `least`. Of a box to tick its label counts. Left out are the stretches of the unrolled tube: they
 * are drawn to scale, and the tables have a cell for each.
 */
const tooSmall = (page: Page, least: number): Promise<string[]> =>
  page.evaluate(wanted => {
    const found = [
      ...document.querySelectorAll('button, input, select, textarea, [role=option], summary, a[href]'),
    ]
      .filter(e => e.getBoundingClientRect().width > 2 && getComputedStyle(e).visibility === 'visible')
      .flatMap(e => {
        const ticks = e instanceof HTMLInputElement && /checkbox|radio/.test(e.type)
        const { width, height } = ((ticks && e.closest('label')) || e).getBoundingClientRect()
        if (width >= wanted - 0.5 && height >= wanted - 0.5) return []
        return [
          `${e.tagName} “${e.getAttribute('aria-label') ?? e.textContent}” ${Math.round(width)} × ${Math.round(height)}`,
        ]
      })
    return [...new Set(found)]
  }, least)

for (const how of ['pointer', 'finger'] as const)
  test(`everything that is pressed is large enough for a ${how} in every view`, async bench => {
    const touch = how === 'finger'
    const context = await bench.browser.newContext({
      viewport: { width: 1280, height: 800 },
      hasTouch: touch,
      isMobile: touch,
    })
    const page = await openFew(bench, context)
    const small: string[] = []
    const look = async (where: string) => {
      for (const what of await tooSmall(page, LEAST[how])) small.push(`${where}: ${what}`)
    }
    await page.locator('[role=row][data-run]').first().click()
    await page.locator('.picked-actions').waitFor()
    await look('laying out')
    await page.keyboard.press('Alt+3')
    await page.locator('.review-row').first().click()
    await page.locator('.mends .primary').first().waitFor()
    await look('reviewing')
    await page.keyboard.press('Alt+2')
    for (const tab of ['Run', 'Trials', 'Test bend', 'Bender']) {
      await page.getByRole('tab', { name: tab, exact: true }).click()
      await look(`bending, ${tab}`)
    }
    for (const entry of ['Samples', 'Paper and files', 'Import a table', 'Saved in this browser']) {
      await files(page, entry)
      await page.getByRole('dialog').waitFor()
      await look(entry)
      await page.keyboard.press('Escape')
      await page.getByRole('dialog').waitFor({ state: 'detached' })
    }
    holds(small.length === 0, `smaller than ${LEAST[how]} px:\n${small.join('\n')}`)
  })

test('a finger grips the end of a straight on the unrolled tube', async bench => {
  const context = await bench.browser.newContext({
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    isMobile: true,
  })
  const { page } = await openApp(bench, { query: 'sample=first-route', context })
  const reach = await page.locator('[data-grip="1"]').evaluate(grip => {
    const box = grip.querySelector('line')!.getBoundingClientRect()
    const own = (dx: number, dy: number) =>
      document.elementFromPoint(box.x + box.width / 2 + dx, box.bottom + dy)?.closest('[data-grip]') === grip
    return [own(-20, 10), own(20, 10), own(-20, 35), own(20, 35)]
  })
  equal(reach, [true, true, true, true], 'places 20 px beside the grip that grip it')
})

test('every view has a heading of its own that names the view and the skid, and no table has an empty heading', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const empty = () =>
    page
      .locator('th')
      .evaluateAll(all => all.filter(th => !th.textContent?.trim() && !th.getAttribute('aria-label')).length)
  for (const [keys, name] of [
    ['Alt+1', 'Layout'],
    ['Alt+2', 'Bend'],
    ['Alt+3', 'Review'],
  ] as const) {
    await page.keyboard.press(keys)
    await page.locator('main:not(.loading)').waitFor()
    equal(
      await page.getByRole('heading', { level: 1 }).allTextContents(),
      [`${name}: Blower to manifold`],
      'headings of level 1',
    )
    if (name === 'Bend')
      for (const tab of await page.getByRole('tab').all()) {
        await tab.click()
        equal(await empty(), 0, `empty table headings in bending, ${await tab.textContent()}`)
      }
    equal(await empty(), 0, `empty table headings in ${name}`)
  }
})

test('in forced colours the chosen rows and tabs stand out from the others', async bench => {
  const page = await openFew(bench)
  await page.emulateMedia({ forcedColors: 'active' })
  const differs = async (chosen: string, other: string, what: string) => {
    await page.locator(chosen).first().waitFor()
    const ratio = await page.evaluate(
      ([a, b]) => {
        const light = (selector: string) => {
          let e: Element | null = document.querySelector(selector)
          let colour = 'rgba(0, 0, 0, 0)'
          for (; e && /, 0\)$/.test(colour); e = e.parentElement) colour = getComputedStyle(e).backgroundColor
          const [r, g, bl] = colour.match(/[\d.]+/g)!.map(Number)
          const line = (v: number) =>
            v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4
          return 0.2126 * line(r!) + 0.7152 * line(g!) + 0.0722 * line(bl!)
        }
        const [x, y] = [light(a!), light(b!)]
        return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05)
      },
      [chosen, other],
    )
    holds(ratio >= 3, `${what}: ${ratio.toFixed(2)} : 1, wanted 3 : 1`)
  }
  await page.locator('[role=row][data-run]').nth(1).click()
  await differs('.run-row.selected', '.run-row:not(.selected)', 'the selected run')
  await page.locator('.points [data-row="1"]').first().click()
  await differs('.points tr.selected', '.points tr:not(.selected)', 'the selected point')
  await page.locator('.finding-main').first().click()
  await differs(
    '.finding.selected .finding-main',
    '.finding:not(.selected) .finding-main',
    'the opened finding',
  )
  await page.keyboard.press('Alt+3')
  await page.locator('.review-row').first().click()
  await differs('.review-row[aria-selected=true]', '.review-row[aria-selected=false]', 'the chosen finding')
  await page.keyboard.press('Alt+2')
  await differs('[role=tab][aria-selected=true]', '[role=tab][aria-selected=false]', 'the chosen tab')
})

const focused = (page: Page) =>
  page.evaluate(() => {
    const e = document.activeElement
    return e === document.body || !e
      ? 'the page'
      : (e.getAttribute('aria-label') ?? e.textContent ?? e.tagName)
  })

test('the focus never falls to the page: after a decision, a change of view, an addition, a deletion', async bench => {
  const page = await openFew(bench)
  const stays = async (what: string) => {
    // What is checked is a state that holds: the focus is moved in a task of its own after the page has changed.
    await page
      .waitForFunction(() => document.activeElement && document.activeElement !== document.body, null, {
        polling: 20,
        timeout: 3000,
      })
      .catch(() => {})
    holds((await focused(page)) !== 'the page', `${what}: the focus fell to the page`)
  }
  await page.locator('.scene canvas').focus()
  await page.keyboard.press('Alt+3')
  await page.locator('.review-row').first().waitFor()
  await stays('Alt+3')
  await page.locator('.review-row').first().click()
  await page.getByLabel('Category').selectOption({ index: 1 })
  await page.getByLabel('Reason').fill('there is a sleeve')
  await page.getByLabel('Name', { exact: true }).fill('A. Fitter')
  await page.getByRole('button', { name: 'Accept this finding' }).click()
  await page.locator('.said', { hasText: 'Accepted. It stays' }).waitFor()
  await stays('Accept')
  await page.locator('.review-row:focus').waitFor()
  await page.getByRole('button', { name: 'Withdraw acceptance' }).click()
  await page.locator('.accepted-before').waitFor({ state: 'detached' })
  await stays('Withdraw')
  await page.getByLabel('Reason').focus()
  await page.keyboard.press('Alt+1')
  await page.locator('.scene canvas').waitFor()
  await stays('Alt+1')
  await page.keyboard.press('Alt+N')
  await page.getByRole('button', { name: 'Box', exact: true }).waitFor()
  for (const add of ['Fitting', 'Box', 'Cylinder']) {
    await page.getByRole('button', { name: add, exact: true }).click()
    await page.getByRole('button', { name: 'Delete', exact: true }).waitFor()
    await stays(`Add ${add}`)
    holds(
      await page.evaluate(() => document.activeElement?.closest('.inspector') !== null),
      `after Add ${add} the focus is at ${await focused(page)}, wanted Properties`,
    )
    await page.getByRole('button', { name: 'Delete', exact: true }).click()
    await page.getByRole('button', { name: 'Box', exact: true }).waitFor()
    await stays(`Delete the ${add}`)
  }
  await page.locator('.panel-head button', { hasText: 'Run' }).click()
  await page.locator('form.new-run .primary').click()
  await page.locator('[role=row][data-run]').waitFor()
  await stays('Add a run')
})

/** How many times Tab has to be pressed from the top of the page to come to what `is` finds. */
async function tabsTo(page: Page, selector: string): Promise<number> {
  await page.evaluate(() => {
    ;(document.activeElement as HTMLElement | null)?.blur()
    window.getSelection()?.removeAllRanges()
    document.querySelector<HTMLElement>('.wordmark')!.tabIndex = -1
    document.querySelector<HTMLElement>('.wordmark')!.focus()
  })
  for (let n = 1; n < 120; n++) {
    await page.keyboard.press('Tab')
    if (await page.evaluate(s => document.activeElement?.matches(s), selector)) return n
  }
  throw new Error(`no Tab comes to ${selector}`)
}

test('a toolbar or a list is one stop of Tab, and the arrow keys go through it', async bench => {
  const page = await openFew(bench)
  const stops = (box: string) =>
    page
      .locator(box)
      .evaluateAll(all =>
        all.map(
          e =>
            [...e.querySelectorAll('button:not(:disabled)')].filter(b => (b as HTMLElement).tabIndex === 0)
              .length,
        ),
      )
  for (const box of ['.modes', '.units', '[role=toolbar]:not(svg)', '.part-list', '.add-buttons']) {
    const found = await stops(box)
    holds(found.length > 0 && found.every(n => n === 1), `tab stops in each ${box}: ${found}`)
  }
  const list = page.getByRole('list', { name: 'Fittings, solids and models' })
  await list.getByRole('button').first().focus()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  holds(
    await list
      .getByRole('button')
      .nth(2)
      .evaluate(e => e === document.activeElement),
    'two arrow keys came not to the third part',
  )
  await page.keyboard.press('End')
  await page.keyboard.press('Tab')
  holds(await list.evaluate(e => !e.contains(document.activeElement)), 'Tab stayed in the list of parts')
  equal(
    await page
      .locator('.finding')
      .evaluateAll(
        all =>
          all.filter(li =>
            [...li.querySelectorAll('button:not(:disabled)')].some(b => (b as HTMLElement).tabIndex === 0),
          ).length,
      ),
    1,
    'findings that Tab stops at',
  )
})

test('on a new skid a box is added within fifteen presses of Tab', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await page.keyboard.press('Alt+N')
  await page.getByRole('button', { name: 'Box', exact: true }).waitFor()
  const n = await tabsTo(page, '.add-buttons button')
  holds(n <= 15, `${n} presses of Tab to the additions`)
})

test('while reviewing, the decision about a finding is what Tab comes to after its row', async bench => {
  const page = await openFew(bench)
  await page.keyboard.press('Alt+3')
  await page.locator('.review-row').first().click()
  await page.locator('.mends .primary').first().waitFor()
  for (let n = 0; n < 3; n++) {
    await page.keyboard.press('Tab')
    if (await page.evaluate(() => document.activeElement?.closest('.review-decision') !== null)) return
    holds(
      await page.evaluate(() => document.activeElement?.closest('.review-list') !== null),
      `Tab came to ${await focused(page)} before the decision`,
    )
  }
  throw new Error('three presses of Tab did not come to the decision')
})

test('a long name that is cut in its middle for the eye is read in one piece', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await openText(page, 'long.json', fewRunsText().replaceAll('"R-1"', '"Instrument air, header to panel 1"'))
  await page
    .locator('.finding')
    .getByRole('button', { name: /Instrument air, header to panel 1 and R-2/ })
    .first()
    .waitFor()
})
