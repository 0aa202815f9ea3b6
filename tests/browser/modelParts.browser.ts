import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { formatLength } from '../../src/document/quantity.ts'
import { cadKernel } from '../cadKernel.ts'
import { stepOf } from '../skid/models/cadStep.ts'
import { askCommandLine } from './commandLine.ts'
import { allKept, caughtUp, equal, files, holds, openApp, ready, savedText, test } from './harness.ts'
import { sheetStl, skidGlb } from './modelScenes.ts'

type Given = string | { name: string; mimeType: string; buffer: Buffer }
const named = (name: string, buffer: Buffer): Given => ({
  name,
  mimeType: 'application/octet-stream',
  buffer,
})

const choose = async (page: Page, button: RegExp, file: Given) => {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: button }).first().click(),
  ])
  await chooser.setFiles(file)
}
const startImport = async (page: Page, file: Given) => {
  await files(page, 'Import a model')
  await page.getByText('up to 4 million triangles').waitFor()
  await choose(page, /^Choose a file/, file)
}
const importModel = async (page: Page, file: Given) => {
  await startImport(page, file)
  await page.getByTestId('model-size').waitFor()
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await properties(page).getByRole('tree').waitFor()
}
const properties = (page: Page) => page.getByRole('region', { name: 'Properties' })
const findings = (page: Page) => page.getByRole('region', { name: 'Findings' })
const reload = async (page: Page) => {
  await page.goto(page.url().replace(/[?&]sample=[^&]*/, ''))
  await ready(page)
}
const rows = (page: Page) =>
  properties(page)
    .getByRole('treeitem')
    .evaluateAll(all => all.map(row => row.getAttribute('aria-label')))
/** What a screen reader is told stands in hand in the tree. */
const inHand = (page: Page) =>
  properties(page)
    .getByRole('tree')
    .evaluate(
      tree =>
        document
          .getElementById(tree.getAttribute('aria-activedescendant') ?? '')
          ?.getAttribute('aria-label') ?? null,
    )

test('parts of a GLB are walked, hidden and left out of the check by keys alone; what is hidden is still checked', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await importModel(page, named('skid.glb', await skidGlb()))
  await caughtUp(page)
  const tooClose = findings(page).getByRole('button', { name: /AE-101 and skid: Wall/ })
  await tooClose.waitFor()
  const tree = properties(page).getByRole('tree', { name: 'Parts of skid' })
  await tree.focus()
  equal(
    await rows(page),
    ['Aeration skid, 14 parts', 'Frame, 8 parts', 'Cable tray, 3 parts', 'Instruments, 3 parts'],
    'the rows at first',
  )
  for (const key of ['ArrowDown', 'ArrowDown', 'ArrowRight', 'ArrowRight']) await page.keyboard.press(key)
  equal(await inHand(page), 'Wall', 'the part in hand')
  await page.keyboard.press(' ')
  equal(await inHand(page), 'Wall, hidden', 'the part after Space')
  await properties(page).getByText('still checked').waitFor()
  await caughtUp(page)
  holds(await tooClose.isVisible(), 'hiding a part took its finding away')
  await page.keyboard.press('ArrowLeft')
  equal(await inHand(page), 'Cable tray, 3 parts, partly hidden', 'the branch above it')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press(' ')
  equal(await inHand(page), 'Wall', 'the part shown again')

  const kind = properties(page).getByRole('group', { name: 'Wall' }).getByLabel('Kind')
  for (let i = 0; i < 8 && !(await kind.evaluate(e => e === document.activeElement)); i++)
    await page.keyboard.press('Tab')
  await page.keyboard.type('Left out')
  equal(await kind.inputValue(), 'leftOut', 'the kind chosen by typing')
  await page.keyboard.press('Tab')
  await tooClose.waitFor({ state: 'detached' })
  await findings(page).getByText('1 of its 14 parts is left out of the clearance check by choice').waitFor()
  await page.keyboard.press('Control+z')
  await tooClose.waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('a gap to a part of a model is the command line’s figure, and choosing its finding draws it', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const glb = await skidGlb()
  await importModel(page, named('skid.glb', glb))
  await caughtUp(page)
  const { text } = await savedText(page, () => files(page, 'Save'))
  const told = (await askCommandLine('clearance', text, { 'skid.glb': glb })) as {
    pairs: { a: string; b: string; clearance: number }[]
  }
  const pair = told.pairs.find(p => p.b === 'skid: Wall')
  holds(pair, `the command line has no pair with the wall: ${JSON.stringify(told)}`)
  const { clearance } = pair
  holds(Math.abs(clearance - 8.37) < 0.001, `the wall stands 8.37 mm off; found ${clearance}`)
  const figure = formatLength(clearance, 'mm', { withUnit: true })
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  const row = page.getByRole('option').filter({ hasText: 'AE-101 and skid: Wall' })
  await row.click()
  holds((await row.textContent())?.includes(figure), `the list wants ${figure}: ${await row.textContent()}`)
  const drawn = (await page.locator('.sceneLabel.gap').first().textContent()) ?? ''
  holds(drawn.endsWith(`gap ${figure}`), `the gap as drawn says “${drawn}”, wanted gap ${figure}`)
})

test('a STEP assembly is taken in with its parts and its own unit', async bench => {
  const oc = await cadKernel()
  const step = stepOf(
    oc,
    'Pump',
    [
      { name: 'Base plate', shape: new oc.BRepPrimAPI_MakeBox(300, 200, 12).Shape(), shift: [400, 300, 0] },
      { name: 'Casing', shape: new oc.BRepPrimAPI_MakeCylinder(60, 120).Shape(), shift: [480, 400, 12] },
    ],
    'INCH',
  )
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await startImport(page, named('pump.step', Buffer.from(step)))
  await page.getByTestId('model-size').waitFor()
  equal(await page.getByTestId('model-size').textContent(), '300 × 200 × 132 mm', 'the size')
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await properties(page).getByRole('tree', { name: 'Parts of pump' }).waitFor()
  equal(await rows(page), ['Pump, 2 parts', 'Base plate', 'Casing'], 'its parts')
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('reading a file of two million triangles is cancelled at once, and nothing of it stays', async bench => {
  const folder = mkdtempSync(join(tmpdir(), 'models-'))
  try {
    const path = join(folder, 'ground.stl')
    writeFileSync(path, sheetStl(1000, 1000, 1, 0))
    const { page } = await openApp(bench, { query: 'sample=first-route' })
    // The page itself cancels in the midst of it: by the time that a busy test could, the reading may be over.
    const cancelled = page.evaluate(
      () =>
        new Promise<number>(done => {
          let from = 0
          const seen = new MutationObserver(() => {
            const dialog = document.querySelector('dialog')
            if (from === 0 && dialog?.querySelector('.read-progress output')?.textContent?.includes('%')) {
              from = performance.now()
              const buttons = [...dialog.querySelectorAll('button')]
              buttons.find(b => b.textContent?.trim() === 'Cancel')?.click()
            } else if (from > 0 && dialog?.textContent?.includes('Choose a file…')) {
              seen.disconnect()
              done(performance.now() - from)
            }
          })
          seen.observe(document.body, { childList: true, subtree: true, characterData: true })
        }),
    )
    await startImport(page, path)
    const took = await cancelled
    console.log(`        cancelled after ${took.toFixed(0)} ms`)
    await page.getByRole('button', { name: /^Choose a file/ }).waitFor()
    // Long enough for a late answer of what was cancelled.
    await page.waitForTimeout(1500)
    holds(!(await page.getByTestId('model-size').isVisible()), 'what was cancelled came all the same')
    await page.getByRole('button', { name: 'Close', exact: true }).click()
    holds(await page.getByRole('button', { name: /^Undo/ }).isDisabled(), 'what was cancelled became a step')
  } finally {
    rmSync(folder, { recursive: true })
  }
})

test('a missing file is given from the findings list, and kept files are seen, kept when needed, and removed', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  const glb = named('skid.glb', await skidGlb())
  await importModel(page, glb)
  await allKept(page)
  await files(page, 'Saved in this browser')
  const kept = page.getByRole('region', { name: 'Model files' })
  await kept.getByText('the skid that is open').waitFor()
  holds(await kept.getByRole('button', { name: 'Remove skid.glb' }).isDisabled(), 'a file in use may go')
  await page.getByRole('button', { name: 'Close', exact: true }).click()

  await files(page, 'New skid')
  await page.getByText('New skid.', { exact: false }).first().waitFor()
  await files(page, 'Saved in this browser')
  await kept.getByRole('button', { name: 'Remove skid.glb' }).click()
  await kept.getByText('“Blower to manifold” still needs it').waitFor()
  await kept.getByRole('button', { name: 'Keep it' }).click()
  await kept.getByRole('button', { name: 'Remove skid.glb' }).click()
  await kept.getByRole('button', { name: 'Remove it' }).click()
  await kept.waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Open Blower to manifold' }).click()

  const missing = findings(page).getByText('its file skid.glb is missing')
  await missing.waitFor()
  // The review offers it, too.
  await page.getByRole('button', { name: 'Review', exact: true }).click()
  await page.getByRole('option').filter({ hasText: 'skid' }).filter({ hasText: 'not checked' }).click()
  await page.getByRole('button', { name: 'Locate file…' }).waitFor()
  await page.getByRole('button', { name: 'Layout', exact: true }).click()
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    findings(page).getByRole('button', { name: 'Locate file…' }).click(),
  ])
  await chooser.setFiles(glb)
  await findings(page)
    .getByRole('button', { name: /AE-101 and skid: Wall/ })
    .waitFor()
  holds(!(await missing.isVisible()), 'the model is still said to be missing')
})

test('where the browser refuses to keep a model’s file it is used all the same, and the page says for how long', async bench => {
  const { page } = await openApp(bench, {
    query: 'sample=first-route',
    before: () => {
      const open = IDBFactory.prototype.open
      IDBFactory.prototype.open = function (name, version) {
        if (name === 'dogleg-models') throw new DOMException('refused by this test', 'SecurityError')
        return open.call(this, name, version)
      }
    },
  })
  await importModel(page, named('skid.glb', await skidGlb()))
  await properties(page).getByText('Its file lasts until this page is closed').waitFor()
  await caughtUp(page)
  await findings(page)
    .getByRole('button', { name: /AE-101 and skid: Wall/ })
    .waitFor()
  await allKept(page)
  await reload(page)
  await findings(page).getByText('its file skid.glb is missing').waitFor()
})
