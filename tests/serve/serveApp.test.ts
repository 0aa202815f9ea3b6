import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { HEADERS, headersOf, POLICY_IN_PAGE } from '../../src/serve/headers.ts'
import { networkAddresses } from '../../src/serve/networkAddress.ts'
import { startOptions } from '../../src/serve/options.ts'
import { type Served, serveApp } from '../../src/serve/serveApp.ts'
import { builtApp } from './builtApp.ts'

const app = builtApp()
let served: Served
beforeAll(async () => {
  served = await serveApp({ dist: app.dist, host: '127.0.0.1', port: 0 })
})
afterAll(() => {
  served.close()
  app.remove()
})
const ask = (path: string, init?: RequestInit) => fetch(`http://127.0.0.1:${served.port}${path}`, init)

test('every answer has the headers of a host, a missing file’s too', async () => {
  for (const path of ['/', '/assets/first-abc.js', '/not-there.js']) {
    const { headers } = await ask(path)
    for (const [name, value] of Object.entries(HEADERS))
      expect(headers.get(name), `${name} of ${path}`).toBe(value)
  }
  expect(HEADERS['Content-Security-Policy']).toBe(`${POLICY_IN_PAGE}; frame-ancestors 'none'`)
})

test('only the worker that reads models may make functions out of text', () => {
  const policy = (path: string) => headersOf(path)['Content-Security-Policy']
  expect(policy('/assets/modelWorker-Ab_1-x.js')).toContain(
    "script-src 'self' 'wasm-unsafe-eval' 'unsafe-eval';",
  )
  for (const path of [
    '/',
    '/index.html',
    '/assets/index-abc.js',
    '/assets/benchWorker-abc.js',
    '/modelWorker-a.js',
  ])
    expect(policy(path)).toBe(HEADERS['Content-Security-Policy'])
})

test('files whose name changes with their content are kept, the page and the service worker are asked for anew', async () => {
  const kept = async (path: string) => (await ask(path)).headers.get('cache-control')
  expect(await kept('/assets/first-abc.js')).toContain('immutable')
  expect(await kept('/')).toBe('no-cache')
  expect(await kept('/serviceWorker.js')).toBe('no-cache')
})

test('what is not part of the app is not found: no page in its place, nothing above or hidden', async () => {
  for (const path of [
    '/assets/gone.js',
    '/nothing',
    '/.secret',
    '/%2e%2e/package.json',
    '/assets/../../package.json',
    '/%',
  ]) {
    const answer = await ask(path)
    expect(answer.status, path).toBe(404)
    expect(await answer.text()).toBe('not found')
  }
})

test('nothing can be sent to it', async () => {
  const answer = await ask('/', { method: 'POST', body: 'x' })
  expect([answer.status, answer.headers.get('allow')]).toEqual([405, 'GET, HEAD'])
})

test('a taken port and an app that was not built are told in words', async () => {
  await expect(serveApp({ dist: app.dist, host: '127.0.0.1', port: served.port })).rejects.toThrow(
    /^port \d+ of 127\.0\.0\.1 is taken; wanted a free one: --port/,
  )
  await expect(serveApp({ dist: join(app.dist, 'none'), host: '127.0.0.1', port: 0 })).rejects.toThrow(
    /wanted the built app: run npm run build first$/,
  )
})

test('options that are not known, or no port, are refused in words', () => {
  expect(startOptions(['--port', '0', '--dist', app.dist])).toEqual({
    port: 0,
    dist: app.dist,
    address: null,
  })
  for (const port of ['x', '-1', '70000', '1.5'])
    expect(() => startOptions([`--port=${port}`])).toThrow(
      `--port: found ${port}; wanted a whole number from 0 to 65535`,
    )
  expect(() => startOptions(['--host', 'x'])).toThrow(/wanted --port NUMBER/)
})

test('the address for the tablet is that of a real network, not of a container or a tunnel', () => {
  const info = (address: string, internal = false) =>
    ({ address, internal, family: 'IPv4', netmask: '', mac: '', cidr: null }) as const
  const found = networkAddresses({
    lo: [info('127.0.0.1', true)],
    docker0: [info('172.17.0.1')],
    wlan0: [{ ...info('fe80::1'), family: 'IPv6', scopeid: 1 }, info('192.168.1.20')],
    eth1: [info('169.254.3.4')],
    tun0: [info('10.8.0.2')],
  })
  expect(found.map(a => a.address)).toEqual(['192.168.1.20', '172.17.0.1', '10.8.0.2', '169.254.3.4'])
  expect(networkAddresses({ lo: [info('127.0.0.1', true)] })).toEqual([])
})

test('README.md lists every header as it is sent', () => {
  const text = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8')
  for (const [name, value] of Object.entries(HEADERS))
    if (name !== 'Vary') expect(text).toContain(`${name}: ${value}`)
})
