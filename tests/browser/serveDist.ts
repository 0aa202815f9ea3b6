import { resolve } from 'node:path'
import { serveApp } from '../../src/serve/serveApp.ts'

export const DIST = resolve(import.meta.dirname, '../../dist')

/**
 * Serves the app built into `dist` on a free port of this machine, by the very server that `npm start` starts.
 * @throws Error when it was not built.
 */
export async function serveDist(dist = DIST): Promise<{ address: string; close(): void }> {
  const { port, close } = await serveApp({ dist, host: '127.0.0.1', port: 0 })
  return { address: `http://127.0.0.1:${port}/`, close }
}
