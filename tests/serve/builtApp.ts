import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A folder as the build leaves one, with next to nothing in it. */
export function builtApp(): { readonly dist: string; remove(): void } {
  const dist = mkdtempSync(join(tmpdir(), 'dogleg-built-'))
  mkdirSync(join(dist, 'assets'))
  writeFileSync(join(dist, 'index.html'), '<!doctype html><title>Dogleg</title>')
  writeFileSync(join(dist, 'serviceWorker.js'), '// a worker')
  writeFileSync(join(dist, 'assets', 'first-abc.js'), 'export {}')
  writeFileSync(join(dist, '.secret'), 'not for anyone')
  return { dist, remove: () => rmSync(dist, { recursive: true }) }
}
