import 'reflect-metadata'
import { createHash, webcrypto, X509Certificate } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { isIPv4 } from 'node:net'
import { join } from 'node:path'
import * as x509 from '@peculiar/x509'

const ALGORITHM = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' }
const ROOT_DAYS = 3650
/** Browsers of tablets refuse a server's certificate that lasts longer. */
const OWN_DAYS = 397
/** One that would run out within these is made anew. */
const DAYS_LEFT = 30
const DAY_MS = 86_400_000

/** RFC 1918 and RFC 3927: addresses that only a local network has. As address and mask. */
const LOCAL_NETWORKS = [
  [10, 0, 0, 0, 255, 0, 0, 0],
  [172, 16, 0, 0, 255, 240, 0, 0],
  [192, 168, 0, 0, 255, 255, 0, 0],
  [169, 254, 0, 0, 255, 255, 0, 0],
] as const

export interface Certificates {
  /** PEM: the server's own certificate and the root that it is signed with. */
  readonly cert: string
  /** PEM of the server's key. */
  readonly key: string
  /** DER of the root: what a tablet is given to trust. */
  readonly root: Uint8Array<ArrayBuffer>
  /** SHA-256, as AA:BB:… */
  readonly rootFingerprint: string
  readonly ownFingerprint: string
  /** False when the root is one kept from an earlier start. */
  readonly isNewRoot: boolean
}

/**
 * The certificate to serve these names with, and the root behind it. Both are kept in `folder`, so that a tablet that
 * trusts the root once does so after the next start and at another address, too. The root is good for local networks,
 * this machine's name and its addresses of now, and for nothing else in the world.
 *
 * @param names IPv4 addresses and host names.
 */
export async function certificatesFor(
  names: readonly string[],
  folder: string,
  machine: string,
): Promise<Certificates> {
  x509.cryptoProvider.set(webcrypto as unknown as Crypto)
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const at = (name: string) => join(folder, name)
  const kept = readPair(at('root.crt'), at('root.key'))
  const isGood = kept !== null && lasts(kept.cert) && names.every(name => allows(kept.cert, name))
  const root = isGood ? kept : await makeRoot(names, machine)
  if (!isGood) writePair(at('root.crt'), at('root.key'), root)
  const before = readPair(at('server.crt'), at('server.key'))
  const isStill =
    before !== null &&
    lasts(before.cert) &&
    isSignedBy(before.cert, root.cert) &&
    names.every(n => isFor(before.cert, n))
  const own = isStill ? before : await makeOwn(names, root)
  if (!isStill) writePair(at('server.crt'), at('server.key'), own)
  const rootDer = Uint8Array.from(new X509Certificate(root.cert).raw)
  return {
    cert: own.cert + root.cert,
    key: own.key,
    root: rootDer,
    rootFingerprint: fingerprint(root.cert),
    ownFingerprint: fingerprint(own.cert),
    isNewRoot: !isGood,
  }
}

interface Pair {
  readonly cert: string
  readonly key: string
}

function readPair(cert: string, key: string): Pair | null {
  if (!existsSync(cert) || !existsSync(key)) return null
  const pair = { cert: readFileSync(cert, 'utf8'), key: readFileSync(key, 'utf8') }
  try {
    new X509Certificate(pair.cert)
    return pair
  } catch {
    return null
  }
}

function writePair(cert: string, key: string, pair: Pair): void {
  writeFileSync(key, pair.key, { mode: 0o600 })
  writeFileSync(cert, pair.cert)
}

const lasts = (cert: string) =>
  new Date(new X509Certificate(cert).validTo).getTime() > Date.now() + DAYS_LEFT * DAY_MS
const isSignedBy = (cert: string, root: string) =>
  new X509Certificate(cert).verify(new X509Certificate(root).publicKey)
const isFor = (cert: string, name: string) => {
  const read = new X509Certificate(cert)
  return (isIPv4(name) ? read.checkIP(name) : read.checkHost(name)) !== undefined
}
const fingerprint = (cert: string) =>
  createHash('sha256')
    .update(new X509Certificate(cert).raw)
    .digest('hex')
    .toUpperCase()
    .match(/../g)!
    .join(':')

async function makeKeys() {
  return webcrypto.subtle.generateKey(ALGORITHM, true, ['sign', 'verify']) as Promise<CryptoKeyPair>
}
const keyPem = async (key: CryptoKey) =>
  x509.PemConverter.encode(
    await webcrypto.subtle.exportKey('pkcs8', key as webcrypto.CryptoKey),
    'PRIVATE KEY',
  )
const serial = () => {
  const bytes = webcrypto.getRandomValues(new Uint8Array(16))
  // A positive number.
  bytes[0] = (bytes[0]! & 0x7f) | 0x40
  return Buffer.from(bytes).toString('hex')
}
/** From yesterday on: the tablet's clock may be behind. */
const between = (days: number) => ({
  notBefore: new Date(Date.now() - DAY_MS),
  notAfter: new Date(Date.now() + (days - 1) * DAY_MS),
})

async function makeRoot(names: readonly string[], machine: string): Promise<Pair> {
  const keys = await makeKeys()
  const root = await x509.X509CertificateGenerator.createSelfSigned({
    serialNumber: serial(),
    name: [{ CN: [`Dogleg on ${machine}`] }],
    ...between(ROOT_DAYS),
    keys,
    signingAlgorithm: ALGORITHM,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign, true),
      new x509.Extension(NAME_CONSTRAINTS, true, nameConstraints(permittedOf(names))),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  })
  return { cert: `${root.toString('pem')}\n`, key: await keyPem(keys.privateKey) }
}

async function makeOwn(names: readonly string[], root: Pair): Promise<Pair> {
  const keys = await makeKeys()
  const issuer = new x509.X509Certificate(root.cert)
  const signingKey = (await webcrypto.subtle.importKey(
    'pkcs8',
    x509.PemConverter.decodeFirst(root.key),
    ALGORITHM,
    false,
    ['sign'],
  )) as CryptoKey
  const own = await x509.X509CertificateGenerator.create({
    serialNumber: serial(),
    subject: [{ CN: [names[0] ?? 'Dogleg'] }],
    issuer: issuer.subjectName,
    ...between(OWN_DAYS),
    signingKey,
    publicKey: keys.publicKey,
    signingAlgorithm: ALGORITHM,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension(
        names.map(value => ({ type: isIPv4(value) ? ('ip' as const) : ('dns' as const), value })),
      ),
      await x509.AuthorityKeyIdentifierExtension.create(issuer),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  })
  return { cert: `${own.toString('pem')}\n`, key: await keyPem(keys.privateKey) }
}

/** RFC 5280, 4.2.1.10. */
const NAME_CONSTRAINTS = '2.5.29.30'

interface Permitted {
  readonly networks: readonly (readonly number[])[]
  readonly hosts: readonly string[]
}

/** Local networks; of `names`, the host names and the addresses that lie outside of those networks. */
function permittedOf(names: readonly string[]): Permitted {
  const outside = names
    .filter(isIPv4)
    .map(a => a.split('.').map(Number))
    .filter(a => !LOCAL_NETWORKS.some(n => isIn(a, n)))
  return {
    networks: [...LOCAL_NETWORKS, ...outside.map(a => [...a, 255, 255, 255, 255])],
    hosts: names.filter(name => !isIPv4(name)),
  }
}
const isIn = (address: readonly number[], network: readonly number[]) =>
  address.every((byte, i) => (byte & network[4 + i]!) === network[i])

/** DER: SEQUENCE of [0] permittedSubtrees, each a SEQUENCE of one name: [7] address and mask, [2] host. */
function nameConstraints({ networks, hosts }: Permitted): Uint8Array<ArrayBuffer> {
  const subtrees = [
    ...networks.map(bytes => der(0x30, der(0x87, Uint8Array.from(bytes)))),
    ...hosts.map(host => der(0x30, der(0x82, new TextEncoder().encode(host)))),
  ]
  return der(0x30, der(0xa0, joined(subtrees)))
}

/** One value of DER; lengths up to 65535. */
function der(tag: number, content: Uint8Array): Uint8Array<ArrayBuffer> {
  const { length } = content
  const head =
    length < 128 ? [tag, length] : length < 256 ? [tag, 0x81, length] : [tag, 0x82, length >> 8, length & 255]
  return joined([Uint8Array.from(head), content])
}
const joined = (parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(parts.flatMap(p => [...p]))

/** Whether a kept root may sign for the name. */
function allows(root: string, name: string): boolean {
  const held = new x509.X509Certificate(root).getExtension(NAME_CONSTRAINTS)
  if (!held) return false
  const value = Buffer.from(held.value)
  const { networks, hosts } = permittedOf([name])
  const own = isIPv4(name) ? networks.filter(n => isIn(name.split('.').map(Number), n)) : []
  return [
    ...own.map(n => der(0x87, Uint8Array.from(n))),
    ...hosts.map(h => der(0x82, new TextEncoder().encode(h))),
  ].some(part => value.includes(Buffer.from(part)))
}
