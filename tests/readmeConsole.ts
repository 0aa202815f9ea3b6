import { readFileSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { main } from '../src/cli/main.ts'

export const TOP = resolve(import.meta.dirname, '..')
export const README = join(TOP, 'README.md')
/** A console block: its first lines, the command line's arguments, what it prints. */
export const BLOCK = /(```console\n\$ npm run --silent dogleg -- (.*)\n)([\s\S]*?)```/g

/** What the command line prints, run on the project's own files and on those given. Writes nothing. */
export async function dogleg(args: string, files: Readonly<Record<string, string>> = {}): Promise<string> {
  let text = ''
  const print = (more: string) => {
    text += more
  }
  await main(args.split(' '), {
    read: async path => files[path] ?? readFileSync(join(TOP, path), 'utf8'),
    write: async path => {
      throw new Error(`the README shows a command that writes ${path}`)
    },
    out: print,
    err: print,
  })
  return text
}

/**
 * Prints the blocks anew: `tsx tests/readmeConsole.ts`. Read the difference before it is kept, and the words round it:
 * they name the same figures.
 */
async function printAnew(): Promise<void> {
  let text = readFileSync(README, 'utf8')
  for (const [block, head = '', args = ''] of text.matchAll(BLOCK)) {
    const printed = await dogleg(args)
    text = text.replace(block, () => `${head}${printed}\`\`\``)
  }
  writeFileSync(README, text)
}

if (process.argv[1] === import.meta.filename) await printAnew()
