import { spawnSync } from 'node:child_process'
import { createRequire } from 'node:module'
import { dirname, resolve } from 'node:path'
import { ServeError } from './serveApp.ts'

export const TOP = resolve(import.meta.dirname, '../..')

/**
 * Builds the app into a folder, in a process of its own, which gives its memory back. Says nothing but what is wrong.
 *
 * @throws ServeError when it cannot be built; what is wrong is on stderr by then.
 */
export function buildApp(dist: string): void {
  const bundler = resolve(dirname(createRequire(import.meta.url).resolve('vite/package.json')), 'bin/vite.js')
  const options = ['--config', 'src/vite.config.ts', '--logLevel', 'warn', '--outDir', dist, '--emptyOutDir']
  const { status } = spawnSync(process.execPath, [bundler, 'build', 'src', ...options], {
    cwd: TOP,
    stdio: 'inherit',
  })
  if (status !== 0) throw new ServeError('the app could not be built')
}
