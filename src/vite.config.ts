import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, dirname, resolve } from 'node:path'
import { deflateSync } from 'node:zlib'
import react from '@vitejs/plugin-react'
import type { Plugin } from 'vite'
import { defineConfig } from 'vitest/config'
import { lighterThree } from './lighterThree.ts'
import { POLICY_IN_PAGE } from './serve/headers.ts'

const top = resolve(import.meta.dirname, '..')
const publicDir = resolve(top, 'public')

/**
 * What libraries ask for and no browser here ever takes is nothing: a reader of models brings a way to run in Node, and
 * a reader of fonts the means for WOFF2, which none of ours is.
 */
const noUse = (): Plugin => ({
  name: 'dogleg-no-use',
  enforce: 'pre',
  apply: 'build',
  resolveId: (id, importer) =>
    (/^(path|crypto)$/.test(id) && importer?.includes('occt-import-js')) ||
    (id === 'brotli/decompress.js' && importer?.includes('fontkit'))
      ? '\0nothing'
      : undefined,
  load: id => (id === '\0nothing' ? 'export default {}' : undefined),
})

/** Fonts asked for as `….ttf?deflated` are files of their own, made small here for every server, beside their licence. */
const deflatedFonts = (): Plugin => {
  let served = false
  return {
    name: 'dogleg-deflated-fonts',
    enforce: 'pre',
    configResolved: ({ command }) => {
      served = command === 'serve'
    },
    load(id) {
      if (!id.endsWith('.ttf?deflated')) return
      const file = id.slice(0, id.indexOf('?'))
      const source = deflateSync(readFileSync(file), { level: 9 })
      if (served) return `export default 'data:application/octet-stream;base64,${source.toString('base64')}'`
      const licence = readFileSync(resolve(dirname(file), '../LICENSE_FONT'))
      this.emitFile({ type: 'asset', fileName: 'assets/font-licence.txt', source: licence })
      const asset = this.emitFile({ type: 'asset', name: `${basename(file)}.deflated`, source })
      return `export default import.meta.ROLLUP_FILE_URL_${asset}`
    },
  }
}

/** Writes the policy into the built page; the development server needs inline scripts and goes without. */
const contentPolicy = (): Plugin => ({
  name: 'dogleg-content-policy',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY_IN_PAGE },
      injectTo: 'head-prepend',
    },
  ],
})

/** Builds the service worker as a file of its own and tells it which files this version consists of. */
const offline = (): Plugin => ({
  name: 'dogleg-offline',
  apply: 'build',
  buildStart() {
    this.emitFile({
      type: 'chunk',
      id: resolve(import.meta.dirname, 'serviceWorker.ts'),
      fileName: 'serviceWorker.js',
    })
  },
  generateBundle: {
    // Last: other plugins still take files away that turned out to hold nothing but styles.
    order: 'post',
    handler(_, bundle) {
      const worker = bundle['serviceWorker.js']
      if (worker?.type !== 'chunk') throw new Error('the build made no serviceWorker.js')
      const built = Object.keys(bundle).filter(
        name => name !== 'serviceWorker.js' && name !== 'index.html' && !/\.(wasm|map)$/.test(name),
      )
      // The README's picture is no part of the app.
      const served = readdirSync(publicDir).filter(name => name !== 'screenshot.png')
      const files = ['./', ...[...built, ...served].sort().map(name => `./${name}`)]
      const hash = createHash('sha256')
      for (const name of Object.keys(bundle).sort()) {
        const item = bundle[name]!
        hash.update(name).update(item.type === 'chunk' ? item.code : item.source)
      }
      worker.code = worker.code
        .replaceAll('__DOGLEG_VERSION__', JSON.stringify(hash.digest('hex').slice(0, 16)))
        .replaceAll('__DOGLEG_FILES__', JSON.stringify(files))
    },
  },
  // One file that is not there, and no browser keeps any of the others.
  writeBundle({ dir = '' }) {
    const worker = readFileSync(resolve(dir, 'serviceWorker.js'), 'utf8')
    const kept = [...worker.matchAll(/"(\.\/[^"]+)"/g)].map(match => match[1]!)
    const missing = kept.filter(name => !existsSync(resolve(dir, name)))
    if (kept.length < 10 || missing.length > 0)
      throw new Error(
        `serviceWorker.js keeps ${kept.length} files, of which are missing: ${missing.join(', ')}`,
      )
  },
})

const inPage = (id: string) => !id.endsWith('serviceWorker.ts')
/**
 * Two files for what is always loaded. Left alone, the bundler makes one of each piece that some later view shares
 * with the first: dozens, which weigh more apart than together.
 */
const FIRST_VIEW = [
  { name: 'libraries', tags: ['$initial' as const], test: /node_modules/ },
  { name: 'first', tags: ['$initial' as const], test: inPage },
]

export default defineConfig({
  root: import.meta.dirname,
  publicDir,
  base: './',
  plugins: [react(), noUse(), deflatedFonts(), lighterThree(), contentPolicy(), offline()],
  server: { port: 5190, fs: { allow: [top] } },
  worker: { format: 'es', plugins: () => [noUse()] },
  build: {
    outDir: resolve(top, 'dist'),
    emptyOutDir: true,
    target: 'es2023',
    chunkSizeWarningLimit: 1600,
    rolldownOptions: {
      output: { codeSplitting: { groups: FIRST_VIEW } },
      // How long plugins took is no fault of the build.
      checks: { pluginTimings: false },
    },
  },
  test: {
    root: top,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    environment: 'node',
    testTimeout: 120_000,
    expect: { poll: { timeout: 20_000 } },
    // The runner leaves a core free by itself: of two that is half of what there is.
    maxWorkers: '100%',
  },
})
