import { randomBytes } from 'node:crypto'
import { unlinkSync } from 'node:fs'
import { chmod, link, lstat, open, realpath, rename, stat, unlink } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { BadInput } from './badInput.ts'
import type { Writing } from './command.ts'

/**
 * Where a file may be written, before any work is done for it.
 *
 * @returns how to write there: the file that a link leads to, its mode when there is one, or `as` a device, which takes
 *   what comes and has nothing to lose.
 * @throws BadInput when it is one of the files read, by any path, link or spelling; when there is a file already and
 *   nobody said that it may be overwritten; when it is no file.
 */
export async function placeToWrite(
  path: string,
  { inputs, overwrite }: Writing,
): Promise<{ readonly path: string; readonly as: 'new' | 'device' | number }> {
  const there = await stat(path, { bigint: true }).catch(() => null)
  if (there === null) {
    const isLink = await lstat(path).then(
      s => s.isSymbolicLink(),
      () => false,
    )
    if (isLink)
      throw new BadInput(`--out: found "${path}", a link to a file that is not there; wanted a file`)
    return { path, as: 'new' }
  }
  if (there.isDirectory()) throw new BadInput(`--out: found "${path}", a folder; wanted the file to write`)
  for (const input of inputs) {
    const read = await stat(input, { bigint: true }).catch(() => null)
    if (read !== null && read.ino === there.ino && read.dev === there.dev)
      throw new BadInput(
        `--out: found "${path}", ${path === input ? 'which is an input' : `which is the same file as "${input}", an input`}; wanted another file`,
      )
  }
  if (!there.isFile()) return { path, as: 'device' }
  if (!overwrite)
    throw new BadInput(
      `--out: found "${path}", which exists already; wanted a new file, or --overwrite to replace it`,
    )
  return { path: await realpath(path), as: Number(there.mode & 0o7777n) }
}

/**
 * Writes a file whole or not at all: beside its place, then renamed onto it. A file that comes to be there meanwhile is
 * not overwritten unasked either.
 *
 * @throws BadInput when the place is refused or cannot be written; nothing half-written stays.
 */
export async function writeFileWhole(
  path: string,
  data: string | Uint8Array,
  writing: Writing,
): Promise<void> {
  const place = await placeToWrite(path, writing)
  if (place.as === 'device') {
    await told(path, () => writeTo(path, data, 'w'))
    return
  }
  const beside = join(dirname(place.path), `.dogleg-${randomBytes(6).toString('hex')}.part`)
  const drop = () => {
    try {
      unlinkSync(beside)
    } catch {}
  }
  const stopped = (signal: 'SIGINT' | 'SIGTERM') => {
    drop()
    process.exit(signal === 'SIGINT' ? 130 : 143)
  }
  process.once('SIGINT', stopped).once('SIGTERM', stopped)
  try {
    await told(path, async () => {
      await writeTo(beside, data, 'wx')
      if (typeof place.as === 'number') {
        await chmod(beside, place.as)
        await rename(beside, place.path)
      } else await putNew(beside, place.path)
    })
  } finally {
    drop()
    process.off('SIGINT', stopped).off('SIGTERM', stopped)
  }
}

async function writeTo(path: string, data: string | Uint8Array, flags: 'w' | 'wx'): Promise<void> {
  const file = await open(path, flags)
  try {
    await file.writeFile(data)
    if (flags === 'wx') await file.sync()
  } finally {
    await file.close()
  }
}

/** A link is refused where there is a file by now; a file system that has no links is given the file by its name. */
async function putNew(beside: string, path: string): Promise<void> {
  try {
    await link(beside, path)
    await unlink(beside)
  } catch (error) {
    const code = codeOf(error)
    if (code === 'EEXIST')
      throw new BadInput(
        `--out: found "${path}", which appeared meanwhile; wanted a new file, or --overwrite`,
      )
    if (code === 'ENOENT') throw error
    await rename(beside, path)
  }
}

async function told(path: string, write: () => Promise<void>): Promise<void> {
  try {
    await write()
  } catch (error) {
    if (error instanceof BadInput) throw error
    throw new BadInput(`--out: "${path}" cannot be written: ${WHY[codeOf(error)] ?? messageOf(error)}`)
  }
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : ''
const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  ENOTDIR: 'its folder is a file',
  EACCES: 'permission denied',
  EPERM: 'permission denied',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'its name is too long',
}
