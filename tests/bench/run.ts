import { existsSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Figure } from './figure.ts'

/** Every tests/<folder>/figures.ts exports one function that gives its lines; each is measured in this one run. */
const FOLDERS = ['solve', 'bench', 'skid', 'view'] as const

for (const folder of FOLDERS) {
  const file = resolve(import.meta.dirname, '..', folder, 'figures.ts')
  if (!existsSync(file)) continue
  const figures = (await import(file)) as Record<string, () => Promise<Figure[]>>
  const measure = figures[`${folder}Figures`]
  if (!measure) throw new Error(`${file}: found no export ${folder}Figures`)
  console.log(`\n${folder}`)
  for (const { name, value, aim } of await measure())
    console.log(`  ${name.padEnd(78)} ${value.padStart(22)}${aim ? `   aim ${aim}` : ''}`)
}
