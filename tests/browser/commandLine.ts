import { execFile } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { holds } from './harness.ts'

const TOP = resolve(import.meta.dirname, '../..')

/** What the command line printed, and its exit code: 1 is an answer with findings. */
export interface Told {
  readonly code: number
  readonly printed: string
  readonly complaint: string
}

/**
 * Runs the command line on a file of this text, in a folder of its own, without holding up the tests beside it.
 *
 * @param args what stands before and after the file: command, then options.
 * @param beside further files of the folder, by name.
 */
export async function runCommandLine(
  [command, ...options]: readonly [string, ...string[]],
  name: string,
  text: string,
  beside: Readonly<Record<string, Uint8Array>> = {},
): Promise<Told> {
  const folder = mkdtempSync(join(tmpdir(), 'dogleg-'))
  try {
    const file = join(folder, name)
    writeFileSync(file, text)
    for (const [other, bytes] of Object.entries(beside)) writeFileSync(join(folder, other), bytes)
    const args = [join(TOP, 'src/cli/dogleg.mjs'), command, file, ...options]
    return await new Promise<Told>((resolve, reject) => {
      execFile(process.execPath, args, { maxBuffer: 100_000_000 }, (error, printed, complaint) => {
        const code = error ? error.code : 0
        if (typeof code === 'number') resolve({ code, printed, complaint })
        else reject(error)
      })
    })
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** What the command line answers about a saved document: `command FILE --json`, parsed. Open findings are an answer. */
export async function askCommandLine(
  command: string,
  text: string,
  beside: Readonly<Record<string, Uint8Array>> = {},
): Promise<unknown> {
  const told = await runCommandLine([command, '--json'], 'saved.dogleg.json', text, beside)
  holds(told.code === 0 || told.code === 1, `${command} ended with ${told.code}: ${told.complaint}`)
  return JSON.parse(told.printed)
}
