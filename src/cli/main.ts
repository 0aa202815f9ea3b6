import { BenchError } from '../bender/benchError.ts'
import { visibleLines, visibleText } from '../document/visibleText.ts'
import { OutputError } from '../outputs/outputError.ts'
import { BadInput } from './badInput.ts'
import { bench } from './bench.ts'
import { check } from './check.ts'
import { clearance } from './clearance.ts'
import type { Asked, AskedIo, CommandIo } from './command.ts'
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
Exit: 0 nothing open, 1 findings are open, 2 bad input, 3 an error in the program (the reason is on stderr).
`

/**
 * Runs one command.
 *
 * @param args what follows the program's name.
 * @returns the exit code: 0 nothing open, 1 open findings, 2 bad input, 3 a fault of the program; the reason of the
 *   last two went to `io.err`.
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
    const asked = { file, values, ...(other === undefined ? {} : { other }) }
    return await command.run({ ...asked, io: await guarded(io, asked) })
  } catch (error) {
    if (!(error instanceof BadInput || error instanceof BenchError || error instanceof OutputError)) {
      warn(io, `an error in the program, not in the input: ${error instanceof Error ? error.message : error}`)
      if (process.env['DOGLEG_TRACE']) io.err(`${error instanceof Error ? error.stack : error}\n`)
      return 3
    }
    const messages = error instanceof BadInput ? error.messages : [error.message]
    for (const message of messages) warn(io, message)
    return 2
  }
}

/**
 * What a command reads and writes by. It writes onto nothing that it has read, by any path, and onto another file only
 * when told to; both are looked at before its work, too.
 *
 * @throws BadInput when `--out` is refused already.
 */
async function guarded(
  io: CommandIo,
  { file, other, values }: Pick<Asked, 'file' | 'other' | 'values'>,
): Promise<AskedIo> {
  const { out, overwrite, since } = values
  if (overwrite && out === undefined)
    throw new BadInput('--overwrite: found no --out; wanted it with --out only')
  const inputs = [file, other, since].filter(path => typeof path === 'string')
  const writing = () => ({ inputs, overwrite: overwrite === true })
  if (typeof out === 'string' && out !== '') await io.mayWrite?.(out, writing())
  const { files } = io
  return {
    ...io,
    out: text => io.out(visibleLines(text)),
    warn: message => warn(io, message),
    write: (path, data) => io.write(path, data, writing()),
    ...(files && {
      files: {
        list: files.list,
        bytes: path => {
          inputs.push(path)
          return files.bytes(path)
        },
      },
    }),
  }
}

/** Text out of a file moves no cursor, forges no line and hides nothing. */
const warn = (io: CommandIo, message: string) => io.err(`dogleg: ${visibleText(message)}\n`)

/** Whether `--help` or `-h` stands among the options. */
function asksForHelp(args: readonly string[]): boolean {
  const end = args.indexOf('--')
  return (end < 0 ? args : args.slice(0, end)).some(a => a === '--help' || a === '-h')
}
