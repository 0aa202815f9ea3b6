import { middleOf } from './fewRuns.ts'
import { equal, holds, openApp, test } from './harness.ts'
import { openFew } from './openFew.ts'
import { colourAt, colourOther, differ, standsAt } from './pixels.ts'

const VIEWS = [
  ['laying out', 'Alt+1'],
  ['reviewing', 'Alt+3'],
] as const

test('“Colour by” colours the tubes at once in both views, drawn without a graphics card', async bench => {
  const page = await openFew(bench)
  for (const [view, keys] of VIEWS) {
    await page.keyboard.press(keys)
    await page.locator('main:not(.loading) .legend').waitFor()
    // Off the bands, which lie about the middle.
    const at = await standsAt(page, [330, middleOf(6)[1], 100])
    await page.mouse.move(2, 2)
    const plain = await colourAt(page, at)
    await page.getByLabel('Colour by').selectOption('service')
    await colourOther(page, at, plain, 25)
    // Three services, three colours, each the one that the legend has.
    const seen = []
    for (const run of [4, 5, 6]) {
      const place = await standsAt(page, [330, middleOf(run)[1], 100])
      seen.push(await colourAt(page, place))
    }
    for (const [i, j] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const)
      holds(
        differ(seen[i]!, seen[j]!) > 40,
        `${view}: two services look alike: ${seen[i]!.map(Math.round)} and ${seen[j]!.map(Math.round)}`,
      )
    await page.getByLabel('Colour by').selectOption('none')
    for (const by of ['service', 'state', 'size']) {
      await page.getByLabel('Colour by').selectOption(by)
      await colourOther(page, at, plain, 25)
      await page.getByLabel('Colour by').selectOption('none')
      const back = await (async () => {
        for (let n = 0; n < 60; n++) {
          const now = await colourAt(page, at)
          if (differ(now, plain) < 6) return now
          await page.waitForTimeout(100)
        }
        return colourAt(page, at)
      })()
      holds(differ(back, plain) < 6, `${view}: by ${by} and back the tube stayed ${back.map(Math.round)}`)
    }
  }
})

test('pointing at a finding lights both parties of it in the picture, and in the lists while laying out', async bench => {
  const page = await openFew(bench)
  const clash = { name: /R-1.*R-2|R-2.*R-1/ }
  for (const [view, keys] of VIEWS) {
    await page.keyboard.press(keys)
    await page.locator('main:not(.loading) .legend').waitFor()
    const row =
      view === 'laying out'
        ? page.locator('.finding', { hasText: /R-1 and R-2/ }).first()
        : page.getByRole('option', clash).first()
    await row.waitFor()
    const one = await standsAt(page, [80, middleOf(1)[1], 100])
    const other = await standsAt(page, [80, middleOf(2)[1], 100])
    const third = await standsAt(page, [80, middleOf(6)[1], 100])
    const before = [await colourAt(page, one), await colourAt(page, other), await colourAt(page, third)]
    await row.hover()
    await colourOther(page, one, before[0]!, 12)
    await colourOther(page, other, before[1]!, 12)
    holds(
      differ(await colourAt(page, third), before[2]!) < 8,
      `${view}: a run that the finding is not about is lit`,
    )
    if (view === 'laying out')
      equal(
        await page.locator('[role=row].hovered').evaluateAll(all => all.map(e => e.getAttribute('data-run'))),
        ['r1', 'r2'],
        'rows lit in the list of runs',
      )
    await page.mouse.move(2, 2)
    await colourOther(page, one, await colourAt(page, one), 0)
  }
})

test('a finding in the keyboard’s focus lights its straight on the unrolled tube and in the tables', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await page.locator('.finding-main').first().focus()
  await page.locator('.unrolled .part.straight.hovered').waitFor()
  equal(await page.locator('.unrolled .part.hovered').count(), 1, 'parts lit on the unrolled tube')
})

test('an opened clash shows its two tubes differently in colour and in grey, and names both', async bench => {
  const page = await openFew(bench)
  for (const [view, keys] of VIEWS) {
    await page.keyboard.press(keys)
    await page.locator('main:not(.loading) .legend').waitFor()
    if (view === 'laying out')
      await page
        .locator('.finding-main', { hasText: /R-1 and R-2/ })
        .first()
        .click()
    else
      await page
        .getByRole('option', { name: /R-1.*R-2|R-2.*R-1/ })
        .first()
        .click()
    const label = page.locator('.sceneLabel.gap b')
    await label.waitFor()
    const text = (await label.textContent()) ?? ''
    const { colour, error, shows } = await label.evaluate(e => {
      const p = document.createElement('i')
      p.style.color = 'var(--error)'
      document.body.append(p)
      const error = getComputedStyle(p).color
      p.remove()
      const { color, backgroundColor } = getComputedStyle(e)
      return { colour: color, error, shows: backgroundColor }
    })
    equal(colour, error, `${view}: the colour of a clash’s label`)
    holds(!/, 0\)$/.test(shows), `${view}: the clash’s label has no ground of its own`)
    holds(/R-1/.test(text) && /R-2/.test(text) && /overlap 4/.test(text), `${view}: the gap says “${text}”`)
    await page.keyboard.press('v')
    await page.keyboard.press('t')
    await page.mouse.move(2, 2)
    const one = await standsAt(page, [90, middleOf(1)[1] - 3, 100])
    const other = await standsAt(page, [90, middleOf(2)[1] + 3, 100])
    let apart = 0
    for (let n = 0; n < 50 && apart < 40; n++) {
      apart = differ(await colourAt(page, one), await colourAt(page, other))
      await page.waitForTimeout(100)
    }
    holds(apart >= 40, `${view}: the two tubes differ by ${apart.toFixed(0)} of 441`)
  }
})

test('a gap that is only too small is drawn in the colour of a warning, not of an error', async bench => {
  const page = await openFew(bench)
  await page
    .locator('.finding-main', { hasText: /R-4 and R-5/ })
    .first()
    .click()
  const label = page.locator('.sceneLabel.gap b')
  await label.waitFor()
  const { colour, warning, error } = await label.evaluate(e => {
    const probe = (name: string) => {
      const p = document.createElement('i')
      p.style.color = `var(--${name})`
      document.body.append(p)
      const { color } = getComputedStyle(p)
      p.remove()
      return color
    }
    return { colour: getComputedStyle(e).color, warning: probe('warning'), error: probe('error') }
  })
  equal(colour, warning, 'the colour of the gap’s label')
  holds(colour !== error, 'a warning has the colour of an error')
  // Something else selected: the gap is not what is looked at any more.
  await page.locator('[role=row][data-run="r7"]').click()
  await label.waitFor({ state: 'detached' })
})

test('colours by service have bands of their own each, and what is selected keeps its colour with a line round it', async bench => {
  const page = await openFew(bench)
  await page.getByLabel('Colour by').selectOption('service')
  const bands = await page.locator('.legend .swatch').evaluateAll(all =>
    all.map(s =>
      [...s.querySelectorAll('rect')]
        .slice(1)
        .map(r => r.getAttribute('width'))
        .join(),
    ),
  )
  equal(bands.length, 3, 'services in the legend')
  equal(new Set(bands).size, 3, 'different bands in the legend')
  const at = await standsAt(page, [330, middleOf(6)[1], 100])
  await page.mouse.move(2, 2)
  const own = await colourOther(page, at, [-999, 0, 0], 1)
  await page.locator('[role=row][data-run="r6"]').click()
  await page.locator('.sceneLabel.tagInHand', { hasText: 'R-6' }).waitFor({ state: 'attached' })
  await page.mouse.move(2, 2)
  const edge = { x: at.x, y: at.y }
  let lined = false
  for (let n = 0; n < 60 && !lined; n++) {
    // Across the tube: somewhere beside it the line shows in the colour of what is selected.
    for (let d = -14; d <= 14 && !lined; d++) {
      const [r, g, b] = await colourAt(page, { x: edge.x, y: edge.y + d })
      lined = r > 135 && g < 130 && b < 90 && differ([r, g, b], own) > 60
    }
  }
  holds(lined, 'no line round the selected tube')
  holds(differ(await colourAt(page, at), own) < 25, 'the selected tube lost the colour of its service')
})
