import { spawn } from 'node:child_process'
import { createHash, X509Certificate } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { request } from 'node:https'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { TLSSocket } from 'node:tls'
import type { BrowserContext } from 'playwright-core'
import { HEADERS } from '../../src/serve/headers.ts'
import { equal, goOffline, holds, openApp, test } from './harness.ts'
import { launchWithProfile } from './launchBrowser.ts'

const TOP = resolve(import.meta.dirname, '../..')

/** Runs a script of package.json as a person does, with a home and a folder for the built app of its own. */
async function running(script: string, until: RegExp) {
  const folder = mkdtempSync(join(tmpdir(), 'dogleg-serving-'))
  const child = spawn(
    'npm',
    ['run', '--silent', script, '--', '--port', '0', '--dist', join(folder, 'dist')],
    {
      cwd: TOP,
      // npm starts others; all of them are one group, to be ended together.
      detached: true,
      env: { ...process.env, HOME: folder, USERPROFILE: folder },
    },
  )
  const end = () => {
    try {
      if (child.pid) process.kill(-child.pid)
    } catch {
      // It has ended by itself.
    }
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
  }
  let out = ''
  let err = ''
  child.stderr.on('data', (data: Buffer) => {
    err += data.toString()
  })
  try {
    await new Promise<void>((ready, fail) => {
      child.stdout.on('data', (data: Buffer) => {
        out += data.toString()
        if (until.test(out)) ready()
      })
      child.once('exit', code => fail(new Error(`npm run ${script} ended with ${code}: ${out}${err}`)))
    })
  } catch (error) {
    end()
    throw error
  }
  return { folder, out, err: () => err, end }
}

test('npm start says its address, a way to the tablet and nothing else, and sends every header', async () => {
  const { out, err, end } = await running('start', /npm run shop/)
  try {
    equal(err(), '', 'what it complains of')
    const [, address] =
      /^Dogleg: (http:\/\/localhost:\d+\/)\nFor a tablet in the same network: npm run shop\n$/.exec(out) ?? []
    holds(address, `it says: ${out}`)
    const answer = await fetch(address)
    equal(answer.status, 200, 'the answer')
    for (const [name, value] of Object.entries(HEADERS)) equal(answer.headers.get(name), value, name)
  } finally {
    end()
  }
})

test('npm run shop serves the network by https, and a browser that trusts its certificate works offline', async bench => {
  const { folder, out, end } = await running('shop', /Serving Dogleg/)
  let context: BrowserContext | undefined
  try {
    const [, address] = /^Dogleg: (https:\/\/[\d.]+:\d+\/)$/m.exec(out) ?? []
    holds(address, `it says: ${out}`)
    holds(!/\/\/(localhost|127\.)/.test(address), `${address} is no address of the network`)
    holds(/[█▀▄]{10}/.test(out), 'no symbol of the address is shown')
    const root = readFileSync(join(folder, '.dogleg', 'root.crt'), 'utf8')
    const served = await new Promise<{ headers: Record<string, unknown>; fingerprint: string }>(
      (done, fail) => {
        request(address, { ca: root, agent: false }, answer => {
          answer.resume()
          const { fingerprint256 } = (answer.socket as TLSSocket).getPeerCertificate()
          done({ headers: answer.headers, fingerprint: fingerprint256 })
        })
          .on('error', fail)
          .end()
      },
    )
    for (const [name, value] of Object.entries(HEADERS))
      equal(served.headers[name.toLowerCase()], value, name)
    holds(
      out.includes(served.fingerprint),
      'the fingerprint of the certificate that is served is not printed',
    )
    holds(out.includes(new X509Certificate(root).fingerprint256), 'the root’s fingerprint is not printed')

    const key = new X509Certificate(root).publicKey.export({ type: 'spki', format: 'der' })
    const trusted = createHash('sha256').update(key).digest('base64')
    context = await launchWithProfile(join(folder, 'profile'), [
      `--ignore-certificate-errors-spki-list=${trusted}`,
    ])
    const { page, troubles } = await openApp({ ...bench, address }, { context })
    holds(await page.evaluate(() => isSecureContext), 'the page is not secure')
    await goOffline({ page, context })
    await page.getByRole('button', { name: 'Bend', exact: true }).click()
    await page.getByRole('button', { name: 'Start bending' }).waitFor()
    holds(troubles.length === 0, `the page complained: ${troubles.join(' | ')}`)
  } finally {
    await context?.close().catch(() => {})
    end()
  }
})
