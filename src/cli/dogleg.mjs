#!/usr/bin/env node
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'

/*
 * Runs the command line as one bundled file, and bundles it first where there is none of these sources. Started from
 * single files it takes several times as long. Node runs this file as it is: no types in it.
 */

const TOP = resolve(fileURLToPath(import.meta.url), '../../..')
const KEPT = join(TOP, 'dist-cli')
/** Folders of src that are the page's or the server's alone. */
const NOT_OURS = new Set(['view', 'store', 'workers', 'serve'])
/** What the command line is made of. */
const SOURCES = readdirSync(join(TOP, 'src'), { withFileTypes: true })
  .filter(entry => entry.isDirectory() && !NOT_OURS.has(entry.name))
  .map(entry => `src/${entry.name}`)
  .concat(['shared', 'package.json', 'package-lock.json'])

/** Another one as soon as a source is written, comes or goes. */
function stamp() {
  const hash = createHash('sha256')
  const add = path => {
    const { mtimeMs, size } = statSync(join(TOP, path))
    hash.update(`${path} ${mtimeMs} ${size}\n`)
  }
  for (const source of SOURCES) {
    const found = statSync(join(TOP, source))
    if (found.isFile()) add(source)
    else
      for (const entry of readdirSync(join(TOP, source), { recursive: true, withFileTypes: true }))
        if (entry.isFile())
          add(join(source, join(entry.parentPath ?? entry.path, entry.name).slice(join(TOP, source).length)))
  }
  return hash.digest('hex').slice(0, 16)
}

async function bundle(folder) {
  const { build } = await import('vite').catch(() => {
    throw new Error(`dogleg: its libraries are not there; run "npm ci" in ${TOP} first`)
  })
  const making = `${folder}.${process.pid}`
  await build({
    ...{ configFile: false, root: TOP, publicDir: false, logLevel: 'error' },
    ssr: { noExternal: true, external: ['occt-import-js', 'pdfkit'] },
    build: {
      ...{ ssr: join(TOP, 'src/cli/start.ts'), outDir: making, emptyOutDir: true, target: 'node20' },
      rolldownOptions: { output: { entryFileNames: 'dogleg.js', codeSplitting: false } },
    },
  })
  // Two may bundle at the same time: whoever is first is right, and both made the same.
  try {
    renameSync(making, folder)
  } catch (error) {
    rmSync(making, { recursive: true, force: true })
    if (!existsSync(join(folder, 'dogleg.js'))) throw error
  }
  for (const name of readdirSync(KEPT))
    if (name.length === 16 && join(KEPT, name) !== folder)
      rmSync(join(KEPT, name), { recursive: true, force: true })
}

const folder = join(KEPT, stamp())
const file = join(folder, 'dogleg.js')
try {
  if (!existsSync(file)) await bundle(folder)
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : error}\n`)
  process.exit(3)
}
await import(pathToFileURL(file).href)
