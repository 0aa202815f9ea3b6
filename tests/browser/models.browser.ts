import type { Page } from 'playwright-core'
import { allKept, equal, files, holds, openApp, ready, test } from './harness.ts'

/** A box of 1.2 × 0.8 × 0.9 with its corner at the origin, as a text STL without a unit. */
function boxStl(): string {
  const [x, y, z] = [1.2, 0.8, 0.9]
  const corner = (i: number) => `${i & 1 ? x : 0} ${i & 2 ? y : 0} ${i & 4 ? z : 0}`
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ]
  const facets = faces.flatMap(([a, b, c, d]) =>
    [
      [a, b, c],
      [a, c, d],
    ].map(
      t =>
        `facet normal 0 0 0\nouter loop\n${t.map(i => `vertex ${corner(i!)}`).join('\n')}\nendloop\nendfacet`,
    ),
  )
  return `solid box\n${facets.join('\n')}\nendsolid box\n`
}

const choose = async (page: Page, button: RegExp, name: string, text: string) => {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: button }).first().click(),
  ])
  await chooser.setFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(text) })
}

const importBox = async (page: Page) => {
  await files(page, 'Import a model')
  await page.getByText('up to 4 million triangles').waitFor()
  await choose(page, /^Choose a file/, 'tank.stl', boxStl())
  await page.getByTestId('model-size').waitFor()
}
const properties = (page: Page) => page.getByRole('region', { name: 'Properties' })

test('a model is imported in the unit it is asked for, undone, redone, and there after a reload', async bench => {
  const { page, troubles } = await openApp(bench, { query: 'sample=first-route' })
  await importBox(page)
  equal(await page.getByTestId('model-size').textContent(), '1200 × 800 × 900 mm', 'the size proposed')
  await page.getByLabel('Its unit').selectOption({ label: 'centimetre' })
  equal(await page.getByTestId('model-size').textContent(), '12 × 8 × 9 mm', 'the size in centimetres')
  await page.getByLabel('Its unit').selectOption({ label: 'metre' })
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await properties(page).getByRole('tree', { name: 'Parts of tank' }).waitFor()
  await page.keyboard.press('Control+z')
  await properties(page).getByRole('tree').waitFor({ state: 'detached' })
  await page.keyboard.press('Control+Shift+z')
  await properties(page).getByRole('tree').waitFor()
  await allKept(page)
  await page.goto(page.url().replace(/[?&]sample=[^&]*/, ''))
  await ready(page)
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: /^tank model/ }).click()
  await properties(page).getByRole('tree', { name: 'Parts of tank' }).waitFor()
  holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
})

test('where a model’s file is missing it says so, refuses another file, and takes the right one', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await importBox(page)
  await page.getByRole('button', { name: 'Put it on the skid' }).click()
  await properties(page).getByRole('tree').waitFor()
  await allKept(page)
  await page.evaluate(
    () =>
      new Promise(done => {
        const opening = indexedDB.open('dogleg-models')
        opening.onsuccess = () => {
          const wipe = opening.result.transaction('files', 'readwrite').objectStore('files').clear()
          wipe.onsuccess = done
        }
      }),
  )
  await page.goto(page.url().replace(/[?&]sample=[^&]*/, ''))
  await ready(page)
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: /^tank model/ }).click()
  await properties(page).getByText('is not in this browser').waitFor()
  await choose(page, /^Locate file/, 'other.stl', `${boxStl()} `)
  await page.getByText(/tank was made with “tank\.stl”.*“other\.stl”/s).waitFor()
  await page.getByRole('button', { name: 'Close' }).click()
  await choose(page, /^Locate file/, 'renamed.stl', boxStl())
  await properties(page).getByRole('tree').waitFor()
})

test('a file that is no model is refused by its name, with the reason, and nothing changes', async bench => {
  const { page } = await openApp(bench, { query: 'sample=first-route' })
  await files(page, 'Import a model')
  await choose(page, /^Choose a file/, 'empty.obj', '')
  await page.getByRole('alert').filter({ hasText: '“empty.obj” was not imported' }).waitFor()
  holds(await page.getByRole('button', { name: /^Undo/ }).isDisabled(), 'a refused file became a step')
})
