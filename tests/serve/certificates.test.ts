import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs'
import { request } from 'node:https'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TLSSocket } from 'node:tls'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type Certificates, certificatesFor } from '../../src/serve/certificates.ts'
import { HEADERS } from '../../src/serve/headers.ts'
import { type Served, serveApp } from '../../src/serve/serveApp.ts'
import { builtApp } from './builtApp.ts'

const folder = mkdtempSync(join(tmpdir(), 'dogleg-certificates-'))
const app = builtApp()
let first: Certificates
let served: Served
beforeAll(async () => {
  first = await certificatesFor(['127.0.0.1', '192.0.2.7', 'shop-pc.local', 'localhost'], folder, 'shop-pc')
  served = await serveApp({ dist: app.dist, host: '127.0.0.1', port: 0, secure: first })
})
afterAll(() => {
  served.close()
  app.remove()
  rmSync(folder, { recursive: true })
})

interface Answer {
  readonly status: number
  readonly headers: Readonly<Record<string, string | string[] | undefined>>
  readonly fingerprint: string
}
/** Asks as a device that trusts this root, and no other, does. */
const ask = (ca: string, servername: string, host = servername) =>
  new Promise<Answer>((done, fail) => {
    const asking = request(
      {
        host: '127.0.0.1',
        port: served.port,
        path: '/',
        ca,
        agent: false,
        headers: { host },
        ...(servername ? { servername } : {}),
      },
      answer => {
        const { fingerprint256 } = (answer.socket as TLSSocket).getPeerCertificate()
        answer.resume()
        done({ status: answer.statusCode ?? 0, headers: answer.headers, fingerprint: fingerprint256 })
      },
    )
    asking.on('error', fail)
    asking.end()
  })
const rootPem = () => readFileSync(join(folder, 'root.crt'), 'utf8')

test('who trusts the root is served by https, with the fingerprint that was told and every header', async () => {
  const answer = await ask(rootPem(), '')
  expect(answer.status).toBe(200)
  expect(answer.fingerprint).toBe(first.ownFingerprint)
  for (const [name, value] of Object.entries(HEADERS))
    expect(answer.headers[name.toLowerCase()], name).toBe(value)
  expect((await ask(rootPem(), 'shop-pc.local')).status).toBe(200)
})

test('without the root the connection is refused', async () => {
  await expect(ask('', '')).rejects.toThrow(/self.signed|unable to/i)
})

test('a name that the certificate is not for is refused', async () => {
  await expect(ask(rootPem(), 'elsewhere.local')).rejects.toThrow(/altnames/i)
})

test('the next start has the same root and certificate, its keys for nobody else to read', async () => {
  const again = await certificatesFor(['127.0.0.1', 'localhost'], folder, 'shop-pc')
  expect([again.isNewRoot, again.rootFingerprint, again.ownFingerprint]).toEqual([
    false,
    first.rootFingerprint,
    first.ownFingerprint,
  ])
  for (const key of ['root.key', 'server.key']) expect(statSync(join(folder, key)).mode & 0o077, key).toBe(0)
})

test('at another address of a local network the root stays, and signs a certificate for it', async () => {
  const moved = await certificatesFor(['192.168.7.20', 'localhost'], folder, 'shop-pc')
  expect(moved.isNewRoot).toBe(false)
  expect(moved.rootFingerprint).toBe(first.rootFingerprint)
  expect(moved.ownFingerprint).not.toBe(first.ownFingerprint)
})

test('the root signs for no address of the world outside: there another one is made', async () => {
  const other = await certificatesFor(['203.0.113.9'], folder, 'shop-pc')
  expect(other.isNewRoot).toBe(true)
  const kept = await certificatesFor(['203.0.113.9', '10.1.2.3'], folder, 'shop-pc')
  expect(kept.rootFingerprint).toBe(other.rootFingerprint)
})
