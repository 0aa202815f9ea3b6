import { homedir, hostname, networkInterfaces } from 'node:os'
import { join } from 'node:path'
import { renderUnicodeCompact } from 'uqr'
import { buildApp } from './buildApp.ts'
import { certificatesFor } from './certificates.ts'
import { networkAddresses } from './networkAddress.ts'
import { runStart } from './options.ts'
import { ServeError, serveApp } from './serveApp.ts'

const PORT = 5191
/** Where a tablet gets the root certificate from. */
const ROOT_PATH = '/dogleg-root.crt'

/** `npm run shop`: builds the app and serves it to the network by https, for the tablet beside the bender. */
await runStart(async ({ port, dist, address }) => {
  const all = networkAddresses(networkInterfaces()).map(a => a.address)
  const own = address ?? all[0]
  if (own === undefined)
    throw new ServeError(
      'found no address of this machine in a network; wanted one: connect it to the network that the tablet is in',
    )
  if (!all.includes(own))
    throw new ServeError(
      `--address: found ${own}; wanted an address of this machine: ${all.join(', ') || 'it is in no network'}`,
    )
  buildApp(dist)
  const folder = join(homedir(), '.dogleg')
  const machine = /^[a-z\d-]{1,63}/i.exec(hostname())?.[0] ?? 'this-machine'
  const names = [own, ...all.filter(a => a !== own), machine, `${machine}.local`, 'localhost']
  const { cert, key, root, rootFingerprint, ownFingerprint, isNewRoot } = await certificatesFor(
    names,
    folder,
    machine,
  )
  const served = await serveApp({
    dist,
    host: '0.0.0.0',
    port: port ?? PORT,
    secure: { key, cert },
    extra: { [ROOT_PATH]: { type: 'application/x-x509-ca-cert', data: root } },
  })
  const url = `https://${own}:${served.port}/`
  const others = all.filter(a => a !== own)
  console.log(renderUnicodeCompact(url))
  console.log(`Dogleg: ${url}`)
  if (others.length > 0) console.log(`Also at: ${others.map(a => `https://${a}:${served.port}/`).join(' ')}`)
  console.log(`\nRoot certificate, ${isNewRoot ? 'made now' : 'as before'}, kept in ${folder}:`)
  console.log(`  get it at  ${url.slice(0, -1)}${ROOT_PATH}`)
  console.log(`  SHA-256    ${rootFingerprint}`)
  console.log(`Certificate of this address:\n  SHA-256    ${ownFingerprint}`)
  console.log('\nHow to trust it on the tablet: README.md, "Serving Dogleg". Ctrl+C stops it.')
})
