import type { Page } from 'playwright-core'
import { files, holds, test } from './harness.ts'
import { openFew } from './openFew.ts'

/** Least contrast of words (WCAG 2.2, 1.4.3) and of what is drawn without words (1.4.11). */
const WORDS = 4.5
const SHAPES = 3

interface Theme {
  readonly name: string
  readonly media: NonNullable<Parameters<Page['emulateMedia']>[0]>
}
const plain = { contrast: 'no-preference', forcedColors: 'none', reducedMotion: 'reduce' } as const
const THEMES: readonly Theme[] = [
  { name: 'light', media: { ...plain, colorScheme: 'light' } },
  { name: 'dark', media: { ...plain, colorScheme: 'dark' } },
  { name: 'light, more contrast', media: { ...plain, colorScheme: 'light', contrast: 'more' } },
  { name: 'dark, more contrast', media: { ...plain, colorScheme: 'dark', contrast: 'more' } },
  { name: 'forced colours, light', media: { ...plain, colorScheme: 'light', forcedColors: 'active' } },
  { name: 'forced colours, dark', media: { ...plain, colorScheme: 'dark', forcedColors: 'active' } },
]

const STATES: readonly (readonly [name: string, pseudo: readonly string[]])[] = [
  ['at rest', []],
  ['under the pointer', ['hover']],
  ['focused', ['focus', 'focus-visible']],
  ['pressed down', ['hover', 'active']],
]

interface Measured {
  readonly what: string
  readonly ratio: number
  readonly wanted: number
}

/** In the page: puts its measure where `evaluate` finds it. Text and shapes of buttons, edges of fields. */
function installMeasure([words, shapes]: readonly [number, number]): void {
  type Rgba = readonly [number, number, number, number]
  const number = (s: string) => (s.endsWith('%') ? Number.parseFloat(s) / 100 : Number.parseFloat(s))
  const parse = (text: string): Rgba => {
    const srgb = /^color\(srgb ([^)]+)\)$/.exec(text)
    const rgb = /^rgba?\(([^)]+)\)$/.exec(text)
    const parts = (srgb ?? rgb)?.[1]?.split(/[\s,/]+/).map(number)
    if (!parts) return [0, 0, 0, 0]
    const scale = srgb ? 255 : 1
    return [parts[0]! * scale, parts[1]! * scale, parts[2]! * scale, parts[3] ?? 1]
  }
  const over = (top: Rgba, under: Rgba): Rgba => {
    const a = top[3]
    return [0, 1, 2].map(k => top[k]! * a + under[k]! * (1 - a)).concat(1) as unknown as Rgba
  }
  const luminance = (c: Rgba) => {
    const [r, g, b] = [0, 1, 2].map(k => {
      const v = c[k]! / 255
      return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
    })
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
  }
  const contrast = (a: Rgba, b: Rgba) => {
    const [x, y] = [luminance(a), luminance(b)]
    return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05)
  }
  /** What may lie behind an element: one colour, or each of a gradient's. */
  const behind = (element: Element | null): Rgba[] => {
    if (!element)
      return [parse(getComputedStyle(document.documentElement).backgroundColor)].map(c =>
        over(c, [255, 255, 255, 1]),
      )
    const style = getComputedStyle(element)
    const own = parse(style.backgroundColor)
    const opaque = own[3] >= 1 && style.opacity === '1'
    const stops = style.backgroundImage.match(/(?:rgba?|color)\([^)]*\)/g)?.map(parse) ?? []
    const layers = stops.length > 0 ? stops : [own]
    if (opaque && stops.length === 0) return [own]
    const under = element instanceof HTMLDialogElement ? [own] : behind(element.parentElement)
    return layers.flatMap(l =>
      under.map(u => over([l[0], l[1], l[2], l[3] * Number(style.opacity)], over(own, u))),
    )
  }
  const opacity = (element: Element | null): number =>
    element ? Number(getComputedStyle(element).opacity) * opacity(element.parentElement) : 1
  const isSeen = (element: Element) => {
    const box = element.getBoundingClientRect()
    const style = getComputedStyle(element)
    return box.width > 2 && box.height > 2 && style.visibility === 'visible' && Number(style.opacity) > 0
  }
  const least = (colour: string, on: Element, through: number) => {
    const c = parse(colour)
    return Math.min(...behind(on).map(b => contrast(over([c[0], c[1], c[2], c[3] * through], b), b)))
  }
  const nameOf = (e: Element) =>
    `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} “${(e.getAttribute('aria-label') ?? e.textContent ?? '').trim().slice(0, 32)}” in .${e.parentElement?.getAttribute('class') ?? ''}`
  const buttons = 'button, [role="button"]:not(g), [role="tab"], [role="option"], summary'
  const kindOf = (e: Element) =>
    [e, e.parentElement, e.parentElement?.parentElement]
      .map(x => x?.getAttribute('class') ?? '')
      .concat(
        [
          'aria-pressed',
          'aria-selected',
          'aria-expanded',
          'aria-disabled',
          'disabled',
          'role',
          'aria-checked',
        ].map(a => String(e.getAttribute(a))),
      )
      .concat([...e.children].map(c => c.getAttribute('class') ?? c.tagName).join())
      .join('|')
  const read = new Set<CSSStyleSheet>()
  /** Every rule for a state once more for those whose attribute says that they are in it. */
  const byAttribute = (list: CSSStyleSheet | CSSGroupingRule) => {
    for (let i = 0; i < list.cssRules.length; i++) {
      const rule = list.cssRules[i]!
      if (rule instanceof CSSStyleRule) {
        const selector = rule.selectorText.replace(
          /:(hover|focus-visible|focus|active)(?![-\w])/g,
          '[data-as~="$1"]',
        )
        if (selector === rule.selectorText) continue
        list.insertRule(`${selector} { ${rule.style.cssText} }`, ++i)
      } else if (rule instanceof CSSGroupingRule) byAttribute(rule)
    }
  }
  const seen = new Set<string>()
  Object.assign(window, {
    markKinds() {
      for (const sheet of document.styleSheets) {
        if (!read.has(sheet)) byAttribute(sheet)
        read.add(sheet)
      }
      for (const e of document.querySelectorAll('[data-kind]')) e.removeAttribute('data-kind')
      for (const e of document.querySelectorAll(buttons)) {
        if (!isSeen(e) || seen.has(kindOf(e))) continue
        seen.add(kindOf(e))
        e.setAttribute('data-kind', '')
      }
    },
    measureButtons(states: string) {
      const found: Measured[] = []
      for (const button of document.querySelectorAll('[data-kind]'))
        for (let e: Element | null = button; e; e = e.parentElement)
          e.setAttribute('data-as', e === button ? states : states.replace('focus-visible', ''))
      for (const button of document.querySelectorAll('[data-kind]')) {
        const walker = document.createTreeWalker(button, NodeFilter.SHOW_TEXT)
        for (let text = walker.nextNode(); text; text = walker.nextNode()) {
          const parent = text.parentElement!
          if (!text.textContent?.trim() || !isSeen(parent) || parent.closest('.hidden-label, svg')) continue
          const style = getComputedStyle(parent)
          found.push({
            what: `${text.textContent.trim().slice(0, 24)} of ${nameOf(button)}`,
            ratio: least(style.color, parent, opacity(parent)),
            wanted: words,
          })
        }
        for (const svg of button.querySelectorAll('svg'))
          if (isSeen(svg))
            found.push({
              what: `the drawing of ${nameOf(button)}`,
              ratio: least(getComputedStyle(svg).color, svg.parentElement!, opacity(svg)),
              wanted: shapes,
            })
      }
      for (const e of document.querySelectorAll('[data-as]')) e.removeAttribute('data-as')
      return found
    },
    measureFields() {
      const found: Measured[] = []
      for (const field of document.querySelectorAll('input, select, textarea')) {
        if (!isSeen(field) || /checkbox|radio|range|file|color/.test((field as HTMLInputElement).type))
          continue
        if (field.closest('label')?.classList.contains('hidden-label')) continue
        const style = getComputedStyle(field)
        const edges = (['Top', 'Right', 'Bottom', 'Left'] as const)
          .filter(
            side =>
              Number.parseFloat(style[`border${side}Width`]) > 0 && style[`border${side}Style`] !== 'none',
          )
          .map(side => least(style[`border${side}Color`], field.parentElement!, 1))
        found.push({ what: `the edge of ${nameOf(field)}`, ratio: Math.max(0, ...edges), wanted: shapes })
      }
      return found
    },
  })
}

type Measures = {
  /** Marks one button of each kind that was not on screen before. */
  markKinds(): void
  /** Every marked button as it looks in those states, and what it lies in too. */
  measureButtons(states: string): Measured[]
  measureFields(): Measured[]
}

/** Every kind of button on screen in every state and theme, and the edge of every field; gives what is too faint. */
async function tooFaint(page: Page, where: string): Promise<{ faint: string[]; buttons: number }> {
  const faint = new Set<string>()
  let buttons = 0
  await page.evaluate(() => (window as unknown as Measures).markKinds())
  for (const { name, media } of THEMES) {
    await page.emulateMedia(media)
    await page.locator(`html[data-theme=${media.colorScheme}]`).waitFor({ state: 'attached' })
    for (const [state, pseudo] of STATES) {
      const found = await page.evaluate(
        states => (window as unknown as Measures).measureButtons(states),
        pseudo.join(' '),
      )
      buttons += found.length
      for (const m of found)
        if (!(m.ratio >= m.wanted - 0.005))
          faint.add(`${where}, ${name}, ${state}: ${m.what} ${m.ratio.toFixed(2)} of ${m.wanted}`)
    }
    for (const m of await page.evaluate(() => (window as unknown as Measures).measureFields()))
      if (!(m.ratio >= m.wanted - 0.005))
        faint.add(`${where}, ${name}: ${m.what} ${m.ratio.toFixed(2)} of ${m.wanted}`)
  }
  await page.emulateMedia(THEMES[0]!.media)
  return { faint: [...faint], buttons }
}

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().click()

/** Where buttons of their own kind are: how to get there from the place before. */
const PLACES: readonly (readonly [where: string, go: (page: Page) => Promise<void>])[] = [
  ['a fresh page', async () => {}],
  [
    'a run chosen and picked, colours by state',
    async page => {
      await page.getByLabel('Colour by').selectOption('state')
      await page.locator('[role=row][data-run]').first().click()
      await page.locator('[role=row][data-run] .run-pick').nth(1).click()
    },
  ],
  [
    'the form of a new run',
    async page => {
      await page.locator('.panel-head button', { hasText: 'Run' }).click()
      await page.locator('form.new-run').waitFor()
    },
  ],
  ['placing points', page => press(page, /^Place points/)],
  ['a section', page => press(page, /^Section/)],
  ['measuring', page => press(page, /^Measure/)],
  ['saved views', page => press(page, /^Saved views/)],
  [
    'ways to mend a gap',
    async page => {
      await page.keyboard.press('Escape')
      await page.locator('.finding-fix button[aria-expanded]').first().click()
      await page.locator('.mends .primary').first().waitFor()
    },
  ],
  ['the Files menu', page => press(page, 'Files')],
  [
    'the Display menu',
    async page => {
      await page.keyboard.press('Escape')
      await press(page, 'Display')
    },
  ],
  [
    'shortcuts',
    async page => {
      await page.keyboard.press('Escape')
      await press(page, 'Shortcuts')
    },
  ],
  ...(['Samples', 'Import a table', 'Import a model'] as const).map(
    entry =>
      [
        `the dialog ${entry}`,
        async (page: Page) => {
          await page.keyboard.press('Escape')
          await files(page, entry)
          await page.getByRole('dialog').waitFor()
        },
      ] as const,
  ),
  [
    'paper',
    async page => {
      await page.keyboard.press('Escape')
      await files(page, 'Paper and files')
      await page.getByRole('dialog').waitFor()
    },
  ],
  [
    'reviewing, a finding chosen',
    async page => {
      await page.keyboard.press('Escape')
      await page.keyboard.press('Alt+3')
      await page.locator('.review-row').first().click()
      await page.locator('.decision button.primary').first().waitFor()
    },
  ],
  ['reviewing, changes', page => press(page, 'Changes')],
  [
    'bending',
    async page => {
      // A run that can be bent.
      await page.keyboard.press('Alt+S')
      await page
        .getByRole('dialog')
        .getByRole('button', { name: /Blower to manifold/ })
        .click()
      await page.locator('.said', { hasText: 'Blower to manifold' }).waitFor()
      await page.keyboard.press('Alt+2')
      await page.getByRole('button', { name: /^Start bending/ }).waitFor()
    },
  ],
]

test('words on every kind of button can be read in every state and theme, and every field has an edge', async bench => {
  const page = await openFew(bench)
  await page.evaluate(installMeasure, [WORDS, SHAPES] as const)
  const faint: string[] = []
  let buttons = 0
  for (const [where, go] of PLACES) {
    await go(page)
    const found = await tooFaint(page, where)
    faint.push(...found.faint)
    buttons += found.buttons
  }
  holds(buttons > 1000, `only ${buttons} words and drawings of buttons were measured`)
  holds(faint.length === 0, `too faint:\n${faint.join('\n')}`)
})
