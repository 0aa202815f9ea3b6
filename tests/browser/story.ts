import type { Page } from 'playwright-core'
import { askCommandLine } from './commandLine.ts'
import { caughtUp, holds } from './harness.ts'

/** A four-bend route of 6 mm tube between two ports, typed by hand; invented. */
export const STORY = {
  ports: [
    { name: 'Fitting 1', at: ['0', '0', '300'], axis: ['0', '0', '1'] },
    { name: 'Fitting 2', at: ['560', '200', '380'], axis: ['-1', '0', '0'] },
  ],
  /** X, Y, Z of points 2 to 5, as typed: sums and inches are taken too. */
  points: [
    ['0', '0', '500'],
    ['210', '0', '500'],
    ['400+10', '200', '500'],
    ['545', '200', '380'],
  ],
  /** Point 5 stands 15 mm before the port: 15 − T is less than the 18.6 mm its nut needs. */
  short: /straight 5.*end B.*18\.6 mm/s,
  mended: '530',
} as const

export interface ShownBend {
  readonly straight: number
  readonly turn: number | null
  readonly angle: number | null
}

/** The bend table as it stands on screen. */
export async function shownBends(page: Page): Promise<ShownBend[]> {
  const rows = page.getByRole('grid', { name: /^Bends of/ }).locator('tbody tr')
  const bends: ShownBend[] = []
  for (let i = 0; i < (await rows.count()); i++) {
    const cell = async (col: number) => {
      const text = await rows.nth(i).locator(`[data-col="${col}"]`).allTextContents()
      return text[0] === undefined || !/\d/.test(text[0]) ? null : Number(text[0].replace('−', '-'))
    }
    bends.push({ straight: (await cell(1)) ?? Number.NaN, turn: await cell(3), angle: await cell(4) })
  }
  return bends
}

interface Solved {
  readonly runs: readonly {
    readonly tag: string
    readonly straights: readonly number[]
    readonly bends: readonly { readonly angle: number; readonly rotation: number | null }[]
    readonly cutLength: number
  }[]
}

/** Solves a saved document by the command line. */
export const solveByCommandLine = async (text: string): Promise<Solved> =>
  (await askCommandLine('solve', text)) as Solved

/** Half of the last digit on screen: two decimals. */
const SHOWN_TO = 0.005 + 1e-9

/** Compares what is on screen with the command line's figures, bend by bend. */
export function sameFigures(shown: readonly ShownBend[], solved: Solved): void {
  const run = solved.runs[0]
  holds(solved.runs.length === 1 && run, `the command line solved ${solved.runs.length} runs`)
  holds(
    shown.length === run.straights.length,
    `${shown.length} rows on screen, ${run.straights.length} straights`,
  )
  const near = (found: number | null, wanted: number | null, what: string) =>
    holds(
      found === wanted || (found !== null && wanted !== null && Math.abs(found - wanted) <= SHOWN_TO),
      `${what}: ${found} on screen, ${wanted} by the command line`,
    )
  shown.forEach((row, i) => {
    const bend = run.bends[i]
    near(row.straight, run.straights[i] ?? null, `straight ${i + 1}`)
    near(row.turn, bend?.rotation ?? null, `turn ${i + 1}`)
    near(row.angle, bend?.angle ?? null, `angle ${i + 1}`)
  })
}

/** Text of the findings list. */
export const findingsText = async (page: Page): Promise<string> =>
  (await page.getByRole('region', { name: 'Findings' }).textContent()) ?? ''

/** Waits until no finding in the list is an error or a warning. */
export async function nothingWrong(page: Page): Promise<void> {
  await caughtUp(page)
  await findingsSay(page, /^(?!.*\b(errors?|warnings?)\b)/is)
}

/** Waits until the findings list says what is wanted. */
export async function findingsSay(page: Page, wanted: RegExp): Promise<void> {
  const until = Date.now() + 8000
  while (!wanted.test(await findingsText(page))) {
    holds(Date.now() < until, `the findings never said ${wanted}; they say “${await findingsText(page)}”`)
    await page.waitForTimeout(100)
  }
}

/** Out of the field by Escape, then nothing selected by Escape: the inspector shows the skid again. */
export async function selectNothing(page: Page): Promise<void> {
  const add = page.getByRole('button', { name: 'Fitting', exact: true })
  for (let i = 0; i < 4; i++) {
    await page.keyboard.press('Escape')
    await page.waitForTimeout(150)
    if (await add.isVisible()) return
  }
  throw new Error('Escape pressed four times did not select nothing')
}
