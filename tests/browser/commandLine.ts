import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { holds } from './harness.ts'

const TOP = resolve(import.meta.dirname, '../..')

/**
 * What the command line answers about a saved document: `command FILE --json`, parsed. Open findings are an answer.
 *
 * @param beside files of models that lie in the document's folder, by name.
 */
export function askCommandLine(
  command: string,
  text: string,
  beside: Readonly<Record<string, Uint8Array>> = {},
): unknown {
  const folder = mkdtempSync(join(tmpdir(), 'dogleg-'))
  try {
    const file = join(folder, 'saved.dogleg.json')
    writeFileSync(file, text)
    for (const [name, bytes] of Object.entries(beside)) writeFileSync(join(folder, name), bytes)
    const tsx = join(TOP, 'node_modules/tsx/dist/cli.mjs')
    const told = spawnSync(process.execPath, [tsx, join(TOP, 'src/cli.ts'), command, file, '--json'], {
      encoding: 'utf8',
      maxBuffer: 100_000_000,
    })
    holds(told.status === 0 || told.status === 1, `${command} ended with ${told.status}: ${told.stderr}`)
    return JSON.parse(told.stdout)
  } finally {
    rmSync(folder, { recursive: true })
  }
}
