import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { runCommandLine } from './commandLine.ts'
import { caughtUp, equal, holds, openApp, openText, test } from './harness.ts'
import { skidGlb } from './modelScenes.ts'
import { pdfText } from './pdfText.ts'

interface Skid {
  name: string
  runs: { id: string; tag: string; clr: number; vertices: { at: number[] }[] }[]
  models: { at: number[]; hash: string; bytes: number; fileName: string }[]
}
const MODEL = 'feed-pump-skid.glb'
const MODEL_BYTES = readFileSync(new URL(`../../sample-routes/${MODEL}`, import.meta.url))
const DENSE = readFileSync(new URL('../../sample-routes/dense-skid.json', import.meta.url), 'utf8')

/** Point 3 of AE-401 in the sample and 12 mm beside it, where the earlier version has it: half way between. */
const HALF_WAY = [994, 60, 1750] as const

/**
 * The dense skid as it was: two points of one run elsewhere, another run with a smaller radius, a third not yet there,
 * one more that is gone since; its model stood 8 mm lower, so that gaps to it were others.
 */
function earlierSkid(): Skid {
  const was = JSON.parse(DENSE) as Skid
  const [moved, radius, later] = was.runs
  moved!.vertices[1]!.at[0]! -= 12
  moved!.vertices[2]!.at[0]! -= 12
  radius!.clr = 30
  was.runs.push({ ...structuredClone(was.runs[9]!), id: 'gone', tag: 'AE-999' })
  was.runs = was.runs.filter(r => r !== later)
  was.models[0]!.at[2]! -= 8
  return was
}

async function openChanges(page: Page): Promise<void> {
  await caughtUp(page)
  await page.getByRole('button', { name: 'Review', exact: true }).press('Enter')
  await page.getByRole('button', { name: 'Changes' }).press('Enter')
}

async function compareWith(page: Page, name: string, skid: Skid): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: /^(Compare with a file|Another version)…$/ }).press('Enter'),
  ])
  const buffer = Buffer.from(JSON.stringify(skid))
  await chooser.setFiles({ name, mimeType: 'application/json', buffer })
  await bothChecked(page)
}

const bothChecked = (page: Page) => page.getByText(/^Both versions are checked/).waitFor({ timeout: 60_000 })
const strip = (page: Page) => page.locator('.compare-strip')
const detail = (page: Page) => page.getByRole('region', { name: 'Change', exact: true })

interface Compared {
  readonly runs: { readonly added: string[]; readonly removed: string[]; readonly changed: { tag: string }[] }
  readonly findings: Readonly<Record<string, readonly { id?: string; finding?: { id: string } }[]>> & {
    readonly notChecked: Readonly<Record<string, readonly { id: string }[]>>
  }
}
/** The ids of the list's rows as the command line's comparison has them. */
async function byCommandLine(earlier: Skid): Promise<string[]> {
  const folder = mkdtempSync(join(tmpdir(), 'dogleg-'))
  try {
    writeFileSync(join(folder, MODEL), MODEL_BYTES)
    const was = join(folder, 'earlier.json')
    writeFileSync(was, JSON.stringify(earlier))
    const args = ['compare', was, '--json'] as const
    const { code, printed, complaint } = await runCommandLine(args, 'now.json', DENSE, {
      [MODEL]: MODEL_BYTES,
    })
    holds(code === 1, `compare ended with ${code}: ${complaint}`)
    const { runs, findings } = JSON.parse(printed) as Compared
    const rows = [...runs.changed.map(c => c.tag), ...runs.added, ...runs.removed]
    for (const [word, list] of [
      ['appeared', findings['appeared']],
      ['worse', findings['worse']],
      ['gone', findings['gone']],
      ['better', findings['better']],
      ['changed', findings['changed']],
      ['not known', [...findings['notKnownBefore']!, ...findings['notKnownNow']!]],
      ['not checked', Object.values(findings.notChecked).flat()],
    ] as const)
      rows.push(...list!.map(f => `${word}:${'finding' in f ? f.finding?.id : f.id}`))
    return rows.sort()
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** Goes down the list by keyboard; gives each row's id, and of runs the tag. */
async function walk(page: Page): Promise<string[]> {
  const seen: string[] = []
  await page.locator('.change-row[tabindex="0"]').focus()
  await page.keyboard.press('Home')
  for (;;) {
    const row = await page.evaluate(() => {
      const { activeElement: row } = document
      return {
        id: row?.getAttribute('data-change') ?? '',
        title: row?.querySelector('b')?.textContent ?? '',
        selected: row?.getAttribute('aria-selected'),
        detail: document.querySelector('.change-detail h2')?.textContent,
      }
    })
    holds(row.id !== '' && row.selected === 'true', `the keys lead to ${JSON.stringify(row)}`)
    equal(row.detail, row.title, 'what is shown beside the list')
    const name = row.id.startsWith('run:') ? row.title : row.id.replace(/^finding:/, '')
    if (name === seen.at(-1)) return seen
    seen.push(name)
    await page.keyboard.press('ArrowDown')
  }
}

test('two versions of the dense skid with its model: the list by keyboard has what the command line has, the view follows', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=dense-skid' })
  await page.getByText('is missing').waitFor({ state: 'detached' })
  await openChanges(page)
  const earlier = earlierSkid()
  await compareWith(page, 'earlier.json', earlier)
  const told = await byCommandLine(earlier)
  const seen = await walk(page)
  equal(seen.filter(s => !/^(part|document):/.test(s)).sort(), told, 'rows and the command line’s')
  holds(seen.includes(`part:model:${JSON.parse(DENSE).models[0].id}`), 'the moved model is not listed')
  holds(
    told.some(id => /^(worse|better|appeared|gone):clearance:.*\//.test(id)),
    'no gap to the model is other than it was',
  )

  // To the run whose point moved: both places are in the middle of the picture.
  await page.keyboard.press('Home')
  await detail(page).getByText('point 3 moved 12 mm').waitFor()
  const box = (await page.locator('.scene canvas').boundingBox())!
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  // Frames are rare without a GPU: it is given time to arrive.
  let off = Number.POSITIVE_INFINITY
  for (const until = Date.now() + 15_000; off >= 1 && Date.now() < until; await page.waitForTimeout(250)) {
    const at = await page.evaluate(p => window.dogleg?.project(p) ?? null, HALF_WAY)
    if (at) off = Math.hypot(at.x - middle.x, at.y - middle.y)
  }
  holds(off < 1, `the move stands ${off} px off the middle of the picture`)
  await detail(page).getByText('cut length').waitFor()

  // A removed run is seen where it stood, and has its figures.
  await page.locator('[data-change="run:gone"]').click()
  await detail(page).getByText('Cut length').waitFor()
  for (const where of ['.changes', '.compare-strip', '.review-decision']) {
    const { violations } = await new AxeBuilder({ page }).include(where).analyze()
    equal(
      violations.map(v => `${v.id}: ${v.nodes.map(n => n.target.join(' ')).join(', ')}`),
      [],
      `accessibility of ${where}`,
    )
  }
  await page.getByRole('radio', { name: 'Earlier' }).press('Space')
  holds(await page.getByRole('radio', { name: 'Earlier' }).isChecked(), 'the earlier version is not shown')

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Report (PDF)' }).press('Enter'),
  ])
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  const text = await pdfText(Buffer.concat(parts))
  holds(text.includes('Changes since earlier.json'), 'the report has no changes')

  await page.getByRole('button', { name: 'Stop comparing' }).press('Enter')
  await strip(page).waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Compare with a file…' }).waitFor()
  equal(troubles, [], 'the page complained')
})

test('an earlier model that is not here is not checked by its name, its findings neither mended nor new; given, they are', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=dense-skid' })
  await page.getByText('is missing').waitFor({ state: 'detached' })
  await openChanges(page)
  const bytes = await skidGlb()
  const was = JSON.parse(DENSE) as Skid
  was.models[0]!.hash = createHash('sha256').update(bytes).digest('hex')
  was.models[0]!.bytes = bytes.length
  was.models[0]!.fileName = 'older-skid.glb'
  await compareWith(page, 'earlier.json', was)
  const ids = () =>
    page.locator('.change-row').evaluateAll(rows => rows.map(r => r.getAttribute('data-change')!))
  const ofModel = async () => (await ids()).filter(id => id.startsWith('finding:') && id.includes('/'))
  const unknown = await ofModel()
  holds(unknown.length > 0, 'the sample has no finding with its model')
  equal(
    unknown.filter(id => !id.startsWith('finding:not known:')),
    [],
    'findings of the model said to be new or gone',
  )
  await page.locator('.change-row', { hasText: 'not checked' }).first().click()
  await detail(page).getByText('older-skid.glb is missing').waitFor()
  const give = async (name: string, buffer: Buffer) => {
    const [chooser] = await Promise.all([
      page.waitForEvent('filechooser'),
      detail(page).getByRole('button', { name: 'Locate older-skid.glb…' }).press('Enter'),
    ])
    await chooser.setFiles({ name, mimeType: 'model/gltf-binary', buffer })
  }
  await give('other.glb', MODEL_BYTES)
  await page.getByText('“other.glb” is not the file').waitFor()
  await give('renamed.glb', bytes)
  await page.getByText('is missing').waitFor({ state: 'detached' })
  await bothChecked(page)
  equal(
    (await ofModel()).filter(id => id.startsWith('finding:not known:')),
    [],
    'findings not known once the file is there',
  )
  equal(troubles, [], 'the page complained')
})

test('edits, undo and redo keep a comparison, a later save of the skid too; another skid ends it, and that is said', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=thirty-runs' })
  await openChanges(page)
  const sample = readFileSync(new URL('../../sample-routes/thirty-runs.json', import.meta.url), 'utf8')
  const was = JSON.parse(sample) as Skid
  was.runs[0]!.vertices[1]!.at[0]! += 25
  await compareWith(page, 'was.json', was)
  const name = page.getByRole('textbox', { name: /name/i }).first()
  await name.fill('Renamed')
  await name.press('Enter')
  await page.locator('.change-row', { hasText: 'Name, note' }).waitFor()
  await page.getByRole('button', { name: 'Undo' }).press('Enter')
  await page.locator('.change-row', { hasText: 'Name, note' }).waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Redo' }).press('Enter')
  await page.locator('.change-row', { hasText: 'Name, note' }).waitFor()
  holds(await strip(page).isVisible(), 'undo or redo ended the comparison')

  const later = JSON.parse(sample) as Skid
  later.runs[1]!.vertices[1]!.at[0]! += 5
  await openText(page, 'later.json', JSON.stringify(later))
  await page.getByText('Opened “later.json”. It is compared with was.json as before.').waitFor()
  await page.getByText('2 changed').waitFor()

  const two = readFileSync(new URL('../../sample-routes/two-bends.json', import.meta.url), 'utf8')
  await openText(page, 'two.json', two)
  await page
    .getByText('Opened “two.json”. The comparison with was.json ended: this is another skid.')
    .waitFor()
  await strip(page).waitFor({ state: 'detached' })
  await page
    .getByText('The comparison with was.json ended: “Sample tap”, opened since, is another skid.')
    .waitFor()
  equal(troubles, [], 'the page complained')
})
