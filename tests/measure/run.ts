import { existsSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Figure } from './figure.ts'
import type { Oracle } from './oracle.ts'

/** Every tests/<folder>/figures.ts exports one function that gives its lines; each is measured in this one run. */
const FOLDERS = ['solve', 'bender', 'skid', 'view'] as const

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

/** Every tests/<folder>/oracles.ts exports one function that gives its lines of this table. */
console.log('\nwhat was checked against what: random cases of this run, and the worst difference found')
for (const folder of [...FOLDERS, 'outputs', 'checks', 'cli']) {
  const file = resolve(import.meta.dirname, '..', folder, 'oracles.ts')
  if (!existsSync(file)) continue
  const oracles = (await import(file)) as Record<string, () => Promise<Oracle[]>>
  const compare = oracles[`${folder}Oracles`]
  if (!compare) throw new Error(`${file}: found no export ${folder}Oracles`)
  for (const { property, cases, worst } of await compare())
    console.log(`  ${property.padEnd(78)} ${String(cases).padStart(8)} cases   ${worst}`)
}
