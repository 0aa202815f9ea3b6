import AxeBuilder from '@axe-core/playwright'
import type { Locator, Page } from 'playwright-core'
import { runCommandLine } from './commandLine.ts'
import { caughtUp, equal, holds, openApp, savedText, test } from './harness.ts'
import { chooseTable, openImport, runsAre } from './importTable.ts'
import { shownBends } from './story.ts'

interface Report {
  readonly runs: readonly {
    readonly tag: string
    readonly straights: readonly number[]
    readonly bends: readonly { readonly angle: number; readonly rotation: number | null }[]
    readonly developedLength: number
  }[]
}

/** What the command line prints of a text; findings may be open. */
async function printed(command: 'solve' | 'rows', name: string, text: string, options: readonly string[]) {
  const told = await runCommandLine([command, ...options], name, text)
  holds(told.code === 0 || told.code === 1, `${command} ended with ${told.code}: ${told.complaint}`)
  return told.printed
}

const solveText = async (name: string, text: string, options: readonly string[]) =>
  JSON.parse(await printed('solve', name, text, ['--json', ...options])) as Report

/** Every figure of both reports, told by its place; they are of the same programme, so no digit may differ. */
function sameProgramme(
  found: Report['runs'][number] | undefined,
  wanted: Report['runs'][number] | undefined,
) {
  holds(found && wanted && wanted.bends.length > 0, 'a run is missing')
  const figures = (r: Report['runs'][number]) => [
    ...r.straights,
    ...r.bends.flatMap(b => [b.angle, b.rotation]),
    r.developedLength,
  ]
  equal(figures(found), figures(wanted), `programme of ${found.tag}`)
}

const saved = async (page: Page) => (await savedText(page, () => page.keyboard.press('Control+s'))).text

/** Moves on by Tab until the thing has the focus. @throws Error when a hundred stops did not reach it. */
async function tabTo(page: Page, target: Locator): Promise<void> {
  for (let i = 0; i < 100; i++) {
    if (await target.evaluate(element => element === document.activeElement)) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`no Tab reached ${target}`)
}

/** Chooses an entry of a closed list by typing its first letters. */
async function typeChoice(page: Page, list: Locator, letters: string, value: string): Promise<void> {
  await tabTo(page, list)
  await page.keyboard.type(letters)
  equal(await list.inputValue(), value, `what “${letters}” chooses`)
}

async function noRuleBroken(page: Page, what: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .include('dialog')
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze()
  const list = violations.map(v => `${v.id}: ${v.help} at ${v.nodes.map(n => n.target.join(' ')).join('; ')}`)
  holds(list.length === 0, `${what}:\n${list.join('\n')}`)
}

/** Invented. Columns in another order, a header that names none of them, decimal commas, a fraction of an inch. */
const FOREIGN = [
  'No;height;along;across;remark',
  '1;0;0;0;start',
  '2;0;200,5;0;',
  '3;50;300;100;',
  '4;6 3/16in;300;250,25;',
  '5;not measured;1;1;',
  '6;6 3/16in;450;250,25;end',
  '',
].join('\n')

test('a foreign table is taken in by keyboard alone, a row left out, as the command line reads it', async bench => {
  const { page, troubles } = await openApp(bench)
  await page.keyboard.press('Alt+r')
  const dialog = page.getByRole('dialog', { name: 'Import a table' })
  await dialog.waitFor()
  await page.keyboard.insertText(FOREIGN)
  const add = dialog.getByRole('button', { name: 'Add one run' })
  const row = (n: number) =>
    dialog.locator('tbody tr', { has: page.getByRole('rowheader', { name: `${n}`, exact: true }) })
  equal(await add.isDisabled(), true, 'nothing may be added yet')
  await noRuleBroken(page, 'foreign table, before anything is said')

  // The comma is asked about, not guessed, and each answer shows what it makes of the table's own cells.
  const meaning = dialog.getByRole('group', { name: 'What a comma means' })
  const decimal = meaning.getByRole('radio', { name: /^The comma is the decimal mark/ })
  holds(
    (await meaning.getByRole('alert').textContent())?.includes('does not guess'),
    'the comma is not asked about',
  )
  equal(await meaning.getByRole('radio', { checked: true }).count(), 0, 'answers given for the person')
  await tabTo(page, decimal)
  await page.keyboard.press('Space')
  equal(await decimal.isChecked(), true, 'the comma is decimal')

  for (const [column, letter, role] of [
    ['No', 'n', 'unused'],
    ['height', 'z', 'z'],
    ['along', 'x', 'x'],
    ['across', 'y', 'y'],
  ] as const)
    await typeChoice(page, dialog.getByRole('combobox', { name: `${column} is`, exact: true }), letter, role)
  holds(
    (await dialog.getByRole('status').textContent())?.startsWith('One thing is wrong'),
    'one row is wrong',
  )
  equal(await add.isDisabled(), true, 'a wrong row stops the import')
  await tabTo(page, row(6).getByRole('checkbox', { name: 'Leave out row 6' }))
  await page.keyboard.press('Space')
  await dialog.getByText('1 row is left out: 6').waitFor()
  equal(await row(5).locator('.read').allTextContents(), ['157.16', '300', '250.25'], 'row 5 as read')
  await noRuleBroken(page, 'foreign table, ready')
  await tabTo(page, add)
  await page.keyboard.press('Enter')
  await runsAre(page, ['AE-101', 'AE-102'])
  holds((await page.locator('.said').textContent())?.includes('1 row was left out by choice'), 'not said')

  const screen = await solveText('s.json', await saved(page), [])
  const kept = FOREIGN.split('\n').filter(line => !line.startsWith('5;'))
  const tube = ['--od', '12', '--wall', '1.5', '--clr', '36']
  const wanted = await solveText('t.csv', kept.join('\n'), [
    ...['--columns=-,z,x,y,-', '--delimiter', 'semicolon', '--decimal', 'comma', '--unit', 'mm'],
    ...tube,
  ])
  sameProgramme(
    screen.runs.find(r => r.tag === 'AE-102'),
    wanted.runs[0],
  )
  equal(troubles, [], 'what the page threw')
})

test('a column of tags makes several runs in one step, inches by the table, the same as by the command line', async bench => {
  const { page } = await openApp(bench)
  const text = 'run,x,y,z\nIN-7,0,0,20\n,10,0,20\n,10,1 1/2in+5,20\nIN-8,0,4,24\n,12,4,24\n,12,12,30\n'
  const dialog = await openImport(page)
  await chooseTable(page, dialog, 'two.csv', text)
  await dialog.getByRole('combobox', { name: 'Lengths are in' }).selectOption('in')
  await dialog.getByRole('button', { name: 'Add 2 runs' }).click()
  await runsAre(page, ['AE-101', 'IN-7', 'IN-8'])
  const screen = await solveText('s.json', await saved(page), [])
  const wanted = await solveText('t.csv', text, [
    ...['--columns', 'tag,x,y,z', '--unit', 'in', '--od', '12', '--wall', '1.5', '--clr', '36'],
  ])
  equal(
    wanted.runs.map(r => r.tag),
    ['IN-7', 'IN-8'],
    'tags by the command line',
  )
  for (const run of wanted.runs)
    sameProgramme(
      screen.runs.find(r => r.tag === run.tag),
      run,
    )
  await page.getByRole('button', { name: 'Undo' }).click()
  await runsAre(page, ['AE-101'])
})

test('other points for the run in hand are told beforehand and are one undo that brings everything back', async bench => {
  const { page } = await openApp(bench)
  const before = await saved(page)
  const bends = await shownBends(page)
  const dialog = await openImport(page)
  await chooseTable(page, dialog, 'new.csv', 'x,y,z\n150,200,401\n150,200,650\n500,200,650\n500,500,650\n')
  await dialog.getByRole('radio', { name: 'New points for a run of this skid' }).check()
  const told = dialog.getByRole('region', { name: 'What the table becomes' })
  await told.getByText(/points become 4\./).waitFor()
  await told.getByText(/End B leaves port Manifold inlet/).waitFor()
  await dialog.getByRole('button', { name: 'Replace the points of AE-101' }).click()
  await runsAre(page, ['AE-101'])
  await caughtUp(page)
  equal(
    (await shownBends(page)).map(b => b.angle),
    [90, 90, null],
    'angles of the new points',
  )
  await page.getByRole('button', { name: 'Undo' }).click()
  await caughtUp(page)
  equal(await shownBends(page), bends, 'bends after undo')
  equal(JSON.parse(await saved(page)), JSON.parse(before), 'document after undo')
  equal(await page.getByRole('button', { name: 'Undo' }).isDisabled(), true, 'it was more than one step')
})

test('bend rows pasted without a header are read as the choices say, by keyboard, as by the command line', async bench => {
  const { page } = await openApp(bench, { colorScheme: 'dark' })
  // Invented. Straights in inches, no first rotation, one row wrongly taken for column names at first.
  const text = '6\t\t90\n8 1/2\t+45\t60\n7\t-100\t45\n5\t\t\n'
  await page.keyboard.press('Alt+r')
  const dialog = page.getByRole('dialog', { name: 'Import a table' })
  await dialog.waitFor()
  await page.keyboard.insertText(text)
  const rows = dialog.getByRole('radio', { name: /^Bend rows/ })
  await tabTo(page, dialog.getByRole('radio', { name: /^Points/ }))
  await page.keyboard.press('ArrowDown')
  equal(await rows.isChecked(), true, 'it holds bend rows')
  const choose = (name: string, letters: string, value: string) =>
    typeChoice(page, dialog.getByRole('combobox', { name, exact: true }), letters, value)
  equal(await dialog.getByRole('combobox', { name: 'Between cells' }).inputValue(), '\t', 'cells parted by')
  await choose('First line', 'column', 'header')
  equal(await dialog.getByRole('columnheader', { name: /8 1/ }).count(), 0, 'the second line is no header')
  equal(await dialog.locator('tbody tr').count(), 3, 'rows under a header')
  await page.keyboard.press('ArrowDown')
  equal(await dialog.locator('tbody tr').count(), 4, 'rows without a header')
  await choose('Lengths are in', 'in', 'in')
  await choose('Lengths run between', 'inter', 'legs')
  await choose('A positive rotation, looking from A to B, is', 'counter', 'counterClockwise')
  await noRuleBroken(page, 'bend rows, dark')
  await tabTo(page, dialog.getByRole('button', { name: 'Add one run' }))
  await page.keyboard.press('Enter')
  await runsAre(page, ['AE-101', 'AE-102'])

  const points = await printed('rows', 'rows.txt', text, [
    ...['--columns', 'straight,rotation,angle', '--delimiter', 'tab', '--unit', 'in'],
    ...['--lengths', 'legs', '--turns', 'counter', '--clr', '36'],
  ])
  const wanted = (await solveText('p.csv', points, ['--od', '12', '--wall', '1.5', '--clr', '36'])).runs[0]
  const found = (await solveText('s.json', await saved(page), [])).runs.find(r => r.tag === 'AE-102')
  sameProgramme(found, wanted)
  equal(
    found?.bends.map(b => b.rotation && Math.round(b.rotation)),
    [null, -45, 100],
    'rotations',
  )
})
