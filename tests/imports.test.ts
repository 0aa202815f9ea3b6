import { readdirSync, readFileSync } from 'node:fs'
import { join, posix } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const SRC = fileURLToPath(new URL('../src/', import.meta.url))

const CORE = ['geometry', 'catalogue', 'document', 'solve', 'findings', 'bender', 'skid', 'checks', 'outputs']
/** Folders a folder may import from, besides itself. Imports run downwards only. */
const BELOW: Readonly<Record<string, readonly string[]>> = {
  geometry: [],
  catalogue: [],
  document: ['geometry', 'catalogue'],
  solve: ['geometry', 'catalogue', 'document'],
  findings: ['geometry', 'catalogue', 'document', 'solve'],
  bender: ['geometry', 'catalogue', 'document', 'solve', 'findings'],
  skid: ['geometry', 'catalogue', 'document', 'solve', 'findings'],
  checks: ['geometry', 'catalogue', 'document', 'solve', 'findings', 'bender', 'skid'],
  outputs: ['geometry', 'catalogue', 'document', 'solve', 'findings', 'bender', 'skid', 'checks'],
  cli: CORE,
  serve: [],
  workers: CORE,
  store: [...CORE, 'workers'],
  view: [...CORE, 'workers', 'store'],
}
const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .map(f => f.replaceAll('\\', '/'))
  .filter(f => /\.tsx?$/.test(f))

/** Static, dynamic and worker imports of a file, as written. */
function importsOf(text: string): string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '')
  const patterns = [
    /\b(?:import|export)\b[^'"`;]*?\bfrom\s*['"`]([^'"`]+)['"`]/g,
    /\bimport\s*['"`]([^'"`]+)['"`]/g,
    /\bimport\s*\(\s*['"`]([^'"`]+)['"`]/g,
    /\bnew URL\(\s*['"`](\.[^'"`]+)['"`]\s*,\s*import\.meta\.url/g,
  ]
  return patterns.flatMap(p => [...code.matchAll(p)].map(m => m[1]!))
}

const folderOf = (file: string) => (file.includes('/') ? file.slice(0, file.indexOf('/')) : '')
/** The import as a path in src, or null when it leaves src. */
function target(file: string, specifier: string): string | null {
  if (!specifier.startsWith('.')) return null
  const path = posix.normalize(posix.join(posix.dirname(file), specifier.replace(/\?.*$/, '')))
  return path.startsWith('..') ? null : path
}

const links = files.flatMap(file =>
  importsOf(readFileSync(join(SRC, file), 'utf8')).map(specifier => ({
    file,
    specifier,
    to: target(file, specifier),
  })),
)

test('the reader of imports sees static, side-effect, dynamic, re-export and worker imports, and no comments', () => {
  const text = `import a from './a.ts'\nimport type {\n  B,\n} from './b.ts'\nimport './c.css'\nexport * from './d.ts'
    const e = await import('./e.ts')\nnew Worker(new URL('./f.ts', import.meta.url))\n// import './g.ts'\n/* import './h.ts' */`
  expect(importsOf(text).sort()).toEqual(['./a.ts', './b.ts', './c.css', './d.ts', './e.ts', './f.ts'])
  expect(links.length).toBeGreaterThan(50)
})

test('every folder of src has its place in the table', () => {
  const folders = new Set(files.map(folderOf).filter(f => f !== ''))
  expect([...folders].filter(f => !(f in BELOW))).toEqual([])
})

test('imports run downwards only, dynamic ones too', () => {
  const upwards = links.filter(({ file, to }) => {
    const from = folderOf(file)
    if (to === null || from === '') return false
    const into = folderOf(to)
    if (into === '') return true
    return into !== from && !BELOW[from]?.includes(into)
  })
  expect(upwards.map(l => `${l.file} imports ${l.to}`)).toEqual([])
})

test('the core imports nothing of React', () => {
  const wrong = links.filter(
    ({ file, specifier }) => CORE.includes(folderOf(file)) && /^(react|@react-three|zustand)/.test(specifier),
  )
  expect(wrong.map(l => `${l.file} imports ${l.specifier}`)).toEqual([])
})

test('relative imports name their file with its suffix, and it is there', () => {
  const wrong = links.filter(
    ({ specifier, to }) =>
      specifier.startsWith('.') && to !== null && !/\.(css|json|html|svg)$/.test(to) && !files.includes(to),
  )
  expect(wrong.map(l => `${l.file} imports ${l.specifier}`)).toEqual([])
})

test('there are no barrels and no drawers named utils', () => {
  expect(files.filter(f => /(^|\/)(index\.tsx?|utils?\b)/.test(f))).toEqual([])
})

test('no files import each other in a ring', () => {
  const next = new Map<string, string[]>()
  for (const { file, to } of links) if (to !== null) next.set(file, [...(next.get(file) ?? []), to])
  const done = new Set<string>()
  const rings: string[] = []
  const walk = (file: string, trail: readonly string[]) => {
    if (trail.includes(file)) rings.push([...trail.slice(trail.indexOf(file)), file].join(' → '))
    if (done.has(file) || trail.includes(file)) return
    for (const to of next.get(file) ?? []) walk(to, [...trail, file])
    done.add(file)
  }
  for (const file of files) walk(file, [])
  expect(rings).toEqual([])
})
