import { main } from '../../src/cli/main.ts'

/** Runs the command line on files that are only in memory. */
export async function dogleg(args: readonly string[], files: Readonly<Record<string, string>> = {}) {
  let out = ''
  let err = ''
  const written: Record<string, string | Uint8Array> = {}
  const code = await main(args, {
    read: async path => {
      const text = Object.hasOwn(files, path) ? files[path] : undefined
      if (text === undefined) throw Object.assign(new Error('none'), { code: 'ENOENT' })
      return text
    },
    write: async (path, data) => {
      written[path] = data
    },
    files: {
      list: async folder => {
        throw new Error(`no folder ${folder}`)
      },
      bytes: async path => {
        throw new Error(`no file ${path}`)
      },
    },
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err, written }
}
