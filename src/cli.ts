import { realpathSync } from 'node:fs'
import { readFile, stat } from 'node:fs/promises'
import { basename, extname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { allFindings } from './checks/allFindings.ts'
import { KNOWN_BENDERS, knownBender } from './document/knownBenders.ts'
import { documentOfPoints } from './document/newDocument.ts'
import { parseLength } from './document/quantity.ts'
import { LONGEST_DOCUMENT, readDocument } from './document/readDocument.ts'
import { readPoints, readRows } from './document/readTable.ts'
import type { SkidDocument } from './document/types.ts'
import { writePoints } from './document/writeTable.ts'
import { clearanceText } from './outputs/clearanceText.ts'
import { findingsText, solveReport, solveText } from './outputs/solveReport.ts'
import { clearanceReport, DEFAULT_WITHIN } from './skid/clearanceCommand.ts'
import { PLAIN_FRAME, rowsToPoints } from './solve/rows.ts'
import { solveDocument } from './solve/solveRun.ts'

const HELP = `dogleg: from a tube route to its bend programme

  dogleg solve FILE [--json]   straights, bends, rotations, developed and cut length of every run
  dogleg check FILE [--json]   what is wrong with each run, worst first
  dogleg clearance FILE [--within MM] [--json]
                               every pair nearer than this (${DEFAULT_WITHIN} when not given), nearest first
  dogleg rows FILE.csv --clr MM
                               points (x,y,z as CSV) from bend rows with the header straight,rotation,angle;
                               end A at the origin, heading +x, the first bend towards +y

FILE is a skid document (JSON), or a CSV of points with the header x,y,z and then also
  --od MM --wall MM --clr MM   the tube and its centre-line radius; 0.5in is taken too
  --bender ID                  a bender of the reference table to check against:
                               ${KNOWN_BENDERS.map(k => k.bender.id).join(', ')}
Lengths are mm, angles degrees. JSON has every digit.

Exit: 0 nothing open, 1 findings are open, 2 bad input (the reason is on stderr).
`

/** Where the command line reads and writes; a test hands in its own. */
export interface CommandIo {
  /** The file's text. @throws Error when it cannot be read. */
  readonly read: (path: string) => Promise<string>
  readonly out: (text: string) => void
  readonly err: (text: string) => void
}

/** Bad input: its message is all that the user needs. */
class BadInput extends Error {}

const OPTIONS = {
  json: { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
  od: { type: 'string' },
  wall: { type: 'string' },
  clr: { type: 'string' },
  bender: { type: 'string' },
  within: { type: 'string' },
} as const
type Values = { readonly [K in keyof typeof OPTIONS]?: string | boolean | undefined }

interface Call {
  readonly file: string
  readonly values: Values
  readonly io: CommandIo
}

const COMMANDS: Readonly<
  Record<string, { options: readonly string[]; run: (call: Call) => Promise<number> }>
> = {
  solve: { options: ['json', 'od', 'wall', 'clr', 'bender'], run: call => report(call, true) },
  check: { options: ['json', 'od', 'wall', 'clr', 'bender'], run: call => report(call, false) },
  clearance: { options: ['json', 'od', 'wall', 'clr', 'bender', 'within'], run: clearance },
  rows: { options: ['json', 'od', 'wall', 'clr'], run: rows },
}

/**
 * Runs one command.
 *
 * @param args what follows the program's name.
 * @returns the exit code: 0 nothing open, 1 open findings, 2 bad input, whose reason went to `io.err`.
 */
export async function main(args: readonly string[], io: CommandIo): Promise<number> {
  try {
    const { values, positionals } = parsed(args)
    const [name, file, ...more] = positionals
    if (values.help || args.length === 0) {
      io.out(HELP)
      return args.length === 0 ? 2 : 0
    }
    const command = name !== undefined && Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined
    const names = Object.keys(COMMANDS).join(', ')
    if (!command)
      throw new BadInput(
        `the command: found ${name === undefined ? 'none' : `"${name}"`}; wanted one of ${names}`,
      )
    for (const option of Object.keys(values))
      if (!command.options.includes(option)) throw new BadInput(`--${option}: ${name} does not take it`)
    if (file === undefined)
      throw new BadInput(`${name}: found no file; wanted one, as in "dogleg ${name} FILE"`)
    if (more.length > 0) throw new BadInput(`${name}: found "${more[0]}" after the file; wanted one file`)
    return await command.run({ file, values, io })
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    io.err(`dogleg: ${error.message}\n`)
    return 2
  }
}

function parsed(args: readonly string[]): { values: Values; positionals: string[] } {
  try {
    return parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true, strict: true })
  } catch (error) {
    throw new BadInput(`${error instanceof Error ? error.message : error}`)
  }
}

async function report({ file, values, io }: Call, programme: boolean): Promise<number> {
  const document = await documentFrom(file, values, io)
  const solved = solveDocument(document)
  const findings = allFindings(document, solved)
  const summary = solveReport(document, solved, findings)
  for (const run of solved) if (run.problem) io.err(`dogleg: ${run.tag}: ${run.problem.message}\n`)
  if (values.json) io.out(`${JSON.stringify(summary, null, 2)}\n`)
  else io.out((programme ? `${solveText(document, solved)}\n` : '') + findingsText(document, findings))
  return summary.open > 0 ? 1 : 0
}

async function rows({ file, values, io }: Call): Promise<number> {
  const clr = lengthOption(values, 'clr')
  const read = readRows(await textOf(file, io), { headerNeeded: true })
  if (!read.ok) throw new BadInput(listed(file, read.errors))
  const points = rowsToPoints(read.rows, clr, PLAIN_FRAME)
  io.out(values.json ? `${JSON.stringify({ points })}\n` : writePoints(points))
  return 0
}

async function clearance({ file, values, io }: Call): Promise<number> {
  const within = values.within === undefined ? DEFAULT_WITHIN : lengthOption(values, 'within')
  const document = await documentFrom(file, values, io)
  const measured = clearanceReport(document, solveDocument(document), within)
  io.out(values.json ? `${JSON.stringify(measured, null, 2)}\n` : clearanceText(measured))
  return measured.pairs.some(p => p.clearance < p.required) ? 1 : 0
}

/** The document in the file, or the document of the points in it. */
async function documentFrom(file: string, values: Values, io: CommandIo): Promise<SkidDocument> {
  const text = await textOf(file, io)
  const kind = extname(file).toLowerCase()
  const isTable = kind === '.csv' || kind === '.tsv' || (kind !== '.json' && !/^\uFEFF?\s*[[{]/.test(text))
  if (!isTable) {
    const given = ['od', 'wall', 'clr', 'bender'].find(o => values[o as keyof Values] !== undefined)
    if (given)
      throw new BadInput(
        `--${given}: ${file} is a skid document and says it itself; wanted it for a CSV only`,
      )
    const read = readDocument(text)
    if (!read.ok) throw new BadInput(listed(file, read.errors))
    return read.document
  }
  const od = lengthOption(values, 'od')
  const wall = lengthOption(values, 'wall')
  const clr = lengthOption(values, 'clr')
  if (2 * wall >= od) throw new BadInput(`--wall: found ${wall} mm; wanted less than half the OD of ${od} mm`)
  const read = readPoints(text, { headerNeeded: true })
  if (!read.ok) throw new BadInput(listed(file, read.errors))
  const name = basename(file, extname(file)) || 'route'
  if (read.points.length < 2)
    throw new BadInput(`${file}: found a route of one point; wanted at least two, end A and end B`)
  return documentOfPoints(read.points, { name, od, wall, clr, bender: benderOption(values) })
}

function benderOption(values: Values) {
  if (typeof values.bender !== 'string') return null
  const known = knownBender(values.bender)
  if (known) return known.bender
  const ids = KNOWN_BENDERS.map(k => k.bender.id).join(', ')
  throw new BadInput(`--bender: found "${values.bender}"; wanted one of ${ids}`)
}

/** The option's length in mm, > 0. */
function lengthOption(values: Values, name: 'od' | 'wall' | 'clr' | 'within'): number {
  const text = values[name]
  if (typeof text !== 'string')
    throw new BadInput(`--${name}: found nothing; wanted a length in mm, as in --${name} 12`)
  const length = parseLength(text, 'mm')
  if (!length.ok) throw new BadInput(`--${name}: found "${text}"; wanted a length in mm (${length.reason})`)
  if (!(length.mm > 0)) throw new BadInput(`--${name}: found ${length.mm} mm; wanted more than 0`)
  return length.mm
}

async function textOf(file: string, io: CommandIo): Promise<string> {
  try {
    return await io.read(file)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null
    const why =
      code === 'ENOENT'
        ? 'found no such file'
        : code === 'EISDIR'
          ? 'found a folder; wanted a file'
          : error instanceof Error
            ? error.message
            : error
    throw new BadInput(`${file}: ${why}`)
  }
}

const listed = (file: string, errors: readonly { readonly message: string }[]) =>
  errors.map(e => `${file}: ${e.message}`).join('\ndogleg: ')

const NODE_IO: CommandIo = {
  read: async path => {
    const { size } = await stat(path)
    if (size > 4 * LONGEST_DOCUMENT) throw new Error(`found ${size} bytes; wanted at most 50 MB`)
    return readFile(path, 'utf8')
  },
  out: text => process.stdout.write(text),
  err: text => process.stderr.write(text),
}

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url))
  process.exitCode = await main(process.argv.slice(2), NODE_IO)
