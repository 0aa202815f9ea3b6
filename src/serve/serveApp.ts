import { existsSync } from 'node:fs'
import { createServer, type RequestListener, type Server } from 'node:http'
import { createServer as createSecureServer } from 'node:https'
import { join } from 'node:path'
import sirv from 'sirv'
import { cacheControlOf, HEADERS, headersOf } from './headers.ts'

export interface ServeOptions {
  /** The folder that the app was built into. */
  readonly dist: string
  /** Name or address of this machine to listen at. */
  readonly host: string
  /** 0 for any that is free. */
  readonly port: number
  /** PEM; with it the app is served by https. */
  readonly secure?: { readonly key: string; readonly cert: string }
  /** Further files by path, such as `/certificate.crt`. */
  readonly extra?: Readonly<Record<string, { readonly type: string; readonly data: Uint8Array }>>
}

export interface Served {
  readonly port: number
  close(): void
}

/** What nobody listens for is told once, in plain words. */
export class ServeError extends Error {}

/**
 * Serves the built app, and nothing else: a file that is not there is a 404, never the page in its place.
 *
 * @throws ServeError when the app was not built, or the port cannot be had.
 */
export async function serveApp({ dist, host, port, secure, extra = {} }: ServeOptions): Promise<Served> {
  if (!existsSync(join(dist, 'index.html')))
    throw new ServeError(
      `found no ${join(dist, 'index.html')}; wanted the built app: run npm run build first`,
    )
  // All names are read once, so that no path leads out of the folder.
  const files = sirv(dist, {
    dev: false,
    etag: true,
    dotfiles: false,
    setHeaders: (response, path) => {
      response.setHeader('Cache-Control', cacheControlOf(path))
      for (const [name, value] of Object.entries(headersOf(path))) response.setHeader(name, value)
    },
  })
  const answer: RequestListener = (request, response) => {
    for (const [name, value] of Object.entries(HEADERS)) response.setHeader(name, value)
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { Allow: 'GET, HEAD' }).end()
      return
    }
    const own = extra[(request.url ?? '').replace(/\?.*$/, '')]
    if (own) {
      response.writeHead(200, { 'Content-Type': own.type, 'Content-Length': own.data.length })
      response.end(request.method === 'HEAD' ? undefined : own.data)
      return
    }
    files(request, response, () => {
      response.writeHead(404, { 'Content-Type': 'text/plain; charset=utf-8' }).end('not found')
    })
  }
  const server: Server = secure ? createSecureServer(secure, answer) : createServer(answer)
  await new Promise<void>((ready, fail) => {
    server.once('error', error => fail(new ServeError(inWords(error, host, port))))
    server.listen(port, host, ready)
  })
  const address = server.address()
  return {
    port: typeof address === 'object' && address ? address.port : port,
    close() {
      server.closeAllConnections()
      server.close()
    },
  }
}

function inWords(error: NodeJS.ErrnoException, host: string, port: number): string {
  if (error.code === 'EADDRINUSE')
    return `port ${port} of ${host} is taken; wanted a free one: --port NUMBER names another`
  if (error.code === 'EACCES')
    return `port ${port} of ${host} needs administrator rights; wanted one from 1024 on: --port NUMBER names another`
  return `cannot listen at ${host}, port ${port}: ${error.message}`
}
