import { BenchError } from '../bench/benchError.ts'
import { OutputError } from '../outputs/outputError.ts'
import { BadInput } from './badInput.ts'
import { bench } from './bench.ts'
import { check } from './check.ts'
import { clearance } from './clearance.ts'
import type { CommandIo } from './command.ts'
import { compare } from './compare.ts'
import { cutlist } from './cutlist.ts'
import { exportFile } from './export.ts'
import { SHARED_HELP } from './options.ts'
import { readOptions } from './readOptions.ts'
import { review } from './review.ts'
import { rows } from './rows.ts'
import { sheet } from './sheet.ts'
import { solve } from './solve.ts'
import { strip } from './strip.ts'

/** Every command, in the order of the help. */
export const COMMANDS = [
  solve,
  check,
  clearance,
  bench,
  sheet,
  strip,
  review,
  compare,
  cutlist,
  exportFile,
  rows,
]

const HELP = `dogleg: from a tube route to its bend programme

${COMMANDS.map(c => c.help).join('')}
${SHARED_HELP}
Exit: 0 nothing open, 1 findings are open, 2 bad input (the reason is on stderr).
`

/**
 * Runs one command.
 *
 * @param args what follows the program's name.
 * @returns the exit code: 0 nothing open, 1 open findings, 2 bad input, whose reason went to `io.err`.
 */
export async function main(args: readonly string[], io: CommandIo): Promise<number> {
  try {
    if (args.length === 0 || asksForHelp(args)) {
      io.out(HELP)
      return args.length === 0 ? 2 : 0
    }
    const [name = '', ...rest] = args
    const command = COMMANDS.find(c => c.name === name)
    if (!command) {
      const found = name.startsWith('-') ? `none, but ${name}` : `"${name}"`
      throw new BadInput(`the command: found ${found}; wanted one of ${COMMANDS.map(c => c.name).join(', ')}`)
    }
    const { words, values } = readOptions(rest, command.options, name)
    const [file, ...others] = words
    if (file === undefined)
      throw new BadInput(`${name}: found no file; wanted one, as in "dogleg ${name} FILE"`)
    const [other, ...more] = command.twoFiles ? others : [undefined, ...others]
    if (more.length > 0)
      throw new BadInput(
        `${name}: found "${more[0]}" after the file; wanted ${command.twoFiles ? 'two files' : 'one file'}`,
      )
    return await command.run({ file, values, io, ...(other === undefined ? {} : { other }) })
  } catch (error) {
    if (!(error instanceof BadInput || error instanceof BenchError || error instanceof OutputError))
      throw error
    io.err(`dogleg: ${error.message}\n`)
    return 2
  }
}

/** Whether `--help` or `-h` stands among the options. */
function asksForHelp(args: readonly string[]): boolean {
  const end = args.indexOf('--')
  return (end < 0 ? args : args.slice(0, end)).some(a => a === '--help' || a === '-h')
}
