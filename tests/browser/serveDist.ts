import { existsSync, readFileSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join, normalize, resolve } from 'node:path'

export const DIST = resolve(import.meta.dirname, '../../dist')

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
}

/** Serves the app built into `dist` on a free port of this machine. @throws Error when it was not built. */
export async function serveDist(dist = DIST): Promise<{ address: string; close(): void }> {
  if (!existsSync(join(dist, 'index.html')))
    throw new Error(`The browser tests found no ${join(dist, 'index.html')}: run npm run build first.`)
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://x').pathname)
    const file = normalize(join(dist, path === '/' ? 'index.html' : path))
    if (!file.startsWith(dist) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end('not found')
      return
    }
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' })
    response.end(readFileSync(file))
  })
  await new Promise<void>(ready => server.listen(0, '127.0.0.1', ready))
  const { port } = server.address() as AddressInfo
  return {
    address: `http://127.0.0.1:${port}/`,
    close() {
      server.closeAllConnections()
      server.close()
    },
  }
}
