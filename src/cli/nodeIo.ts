import { readdir, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { LONGEST_DOCUMENT } from '../document/readDocument.ts'
import type { CommandIo } from './command.ts'
import { placeToWrite, writeFileWhole } from './writeFile.ts'

/** The files and streams of this machine. */
export const NODE_IO: CommandIo = {
  read: async path => {
    const { size } = await stat(path)
    if (size > 4 * LONGEST_DOCUMENT) throw new Error(`found ${size} bytes; wanted at most 50 MB`)
    return readFile(path, 'utf8')
  },
  write: writeFileWhole,
  mayWrite: async (path, writing) => {
    await placeToWrite(path, writing)
  },
  files: {
    list: async folder => {
      const entries = await readdir(folder, { withFileTypes: true })
      const files = entries.filter(e => e.isFile() || e.isSymbolicLink())
      const sized = await Promise.all(
        files.map(async ({ name }) => ({
          name,
          bytes: await stat(join(folder, name)).then(
            s => s.size,
            () => -1,
          ),
        })),
      )
      return sized.filter(f => f.bytes >= 0)
    },
    bytes: async path => new Uint8Array(await readFile(path)),
  },
  out: text => process.stdout.write(text),
  err: text => process.stderr.write(text),
}
