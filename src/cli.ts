import { realpathSync } from 'node:fs'
import { readdir, readFile, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { BadInput } from './badInput.ts'
import { type BenchOptions, benchReport } from './bench/benchCommand.ts'
import { BenchError } from './bench/benchError.ts'
import { allFindings } from './checks/allFindings.ts'
import { decide, isOpen } from './checks/decisions.ts'
import { cutlist } from './cliCutList.ts'
import {
  type Call,
  type CommandIo,
  documentFrom,
  leadOption,
  lengthOption,
  OPTIONS,
  textOf,
  type Values,
} from './cliInput.ts'
import { modelsOf } from './cliModels.ts'
import { exportFile, sheet, strip } from './cliOutputs.ts'
import { compare, review } from './cliReview.ts'
import { oneOf, ROW_OPTIONS, TABLE_OPTIONS, tableRuns } from './cliTable.ts'
import { RELEASE_OPTIONS, TITLE_OPTIONS } from './cliTitleBlock.ts'
import { KNOWN_BENDERS } from './document/knownBenders.ts'
import { LONGEST_DOCUMENT } from './document/readDocument.ts'
import { writePoints } from './document/writeTable.ts'
import { benchText } from './outputs/benchText.ts'
import { clearanceText } from './outputs/clearanceText.ts'
import { jsonText } from './outputs/jsonText.ts'
import { OutputError } from './outputs/outputError.ts'
import { findingsText, solveReport, solveText } from './outputs/solveReport.ts'
import { clearanceReport, DEFAULT_WITHIN } from './skid/clearanceCommand.ts'
import { PLAIN_FRAME, rowsToPoints } from './solve/rows.ts'
import { rowsFromLegs } from './solve/rowsFromLegs.ts'
import { solveDocument } from './solve/solveRun.ts'

const HELP = `dogleg: from a tube route to its bend programme

  dogleg solve FILE [--json]   straights, bends, rotations, developed and cut length of every run
  dogleg check FILE [--json]   what is wrong with each run, worst first
  dogleg clearance FILE [--within MM] [--json]
                               every pair nearer than this (${DEFAULT_WITHIN} when not given), nearest first
  dogleg bench FILE [--run TAG] [--lead A|B|best] [--bender ID] [--json]
                               marks, turns, dial readings and clearance of every step on the bender
  dogleg sheet FILE [--run TAG] [--lead A|B|best] [--paper A4|A3|Letter] [--app-url URL] --out F.pdf
                               the fabrication sheet of one run, or of all, in the order of bends that the checks
                               found clear of the bender or as led; its QR code holds the sheet's code, or with the
                               app's address a link that opens the run in the bending view
  dogleg strip FILE --run TAG [--lead A|B|best] [--form lay|wrap] [--paper A4|A3|Letter]
               [--bar-x MM --bar-y MM] --out F.pdf
                               the marks 1:1 to lay along the stock or wrap round it; the bars as measured
                               on a first print correct the printer
  dogleg review FILE [--since EARLIER] [--paper A4|A3|Letter] --out F.pdf
  dogleg review FILE --csv [--out F.csv]
                               the review report with a picture of each open gap, and what has changed since an
                               earlier version; or its table, in mm
  dogleg compare FILE EARLIER [--json]
                               what FILE has changed: runs, other parts, findings; exit 0 when nothing, else 1
  dogleg cutlist FILE [--stock LEN[*COUNT]]… [--remnant LEN*COUNT]… [--kerf MM] [--trim MM]
                 [--least-remnant MM] [--json | --out F.pdf|F.csv [--paper A4|A3|Letter]]
                               all runs nested on stock (6000 when not given; 20ft*3: three of them) and what to
                               order; --remnant "1200*2 of 12x1.5" when the runs are of several tubes
  dogleg export FILE [--run TAG] --to step|glb|stl|dxf|svg|csv|rows|json --out F
                               csv: the run's points, rows: its bend rows, svg: its drawing
  dogleg rows FILE.csv --clr MM
                               points (x,y,z as CSV) from bend rows with the header straight,rotation,angle;
                               end A at the origin, heading +x, the first bend towards +y

FILE is a skid document (JSON), or a CSV of points with the header x,y,z and then also
  --od MM --wall MM --clr MM   the tube and its centre-line radius; 0.5in is taken too
  --bender ID                  a bender of the reference table to check against:
                               ${KNOWN_BENDERS.map(k => k.bender.id).join(', ')}
Imported models are looked for beside FILE, by name and by what is in them (solve, check, clearance, sheet, export)
  --models FOLDER              in another folder
A table laid out otherwise (rows takes these too)
  --columns LIST               what each column is, as in tag,x,y,z,- or straight,rotation,angle; - is not used
                               (as --columns=-,x,y,z when the first is not)
  --delimiter comma|semicolon|tab|space
  --decimal point|comma        "1,5" is never guessed
  --unit mm|cm|m|in|ft         of bare lengths; fractions such as 6 3/16 are taken
  --turns clockwise|counter    rows: which way a positive rotation turns, looking from A to B; clockwise when not given
  --lengths straights|legs     rows: between tangent points, or between intersections; straights when not given
A column of tags makes one run of each tag.
On paper (sheet, strip, review) lengths are mm, or of a skid document
  --unit mm|in|fraction        in decimal inches, or in inches as fractions; those of a table are in its own unit,
                               inches as fractions when it says fraction
What else a sheet says
  --owner, --creator, --approver, --revision TEXT
                               in the title block, that of a review too; with --run also --number and --title
  --tolerances 1,0.5,1,3       ± of straights, angles, turns and end to end, mm and degrees; - for one not given
  --released-by NAME --reason TEXT
                               who lets it out with findings open, and why; both stand in its stamp
Else lengths are mm, angles degrees. JSON has every digit.

Exit: 0 nothing open, 1 findings are open, 2 bad input (the reason is on stderr).
`

/** What a table does not say itself; for commands that take a skid document or a table. */
const OF_A_TABLE = ['od', 'wall', 'clr', 'bender', ...TABLE_OPTIONS]

const COMMANDS: Readonly<
  Record<string, { options: readonly string[]; twoFiles?: boolean; run: (call: Call) => Promise<number> }>
> = {
  solve: {
    options: ['json', 'models', ...OF_A_TABLE],
    run: call => report(call, true),
  },
  check: {
    options: ['json', 'models', ...OF_A_TABLE],
    run: call => report(call, false),
  },
  clearance: { options: ['json', 'models', ...OF_A_TABLE, 'within'], run: clearance },
  bench: { options: ['json', ...OF_A_TABLE, 'run', 'lead'], run: bench },
  cutlist: {
    options: ['json', ...OF_A_TABLE, 'stock', 'remnant', 'kerf', 'trim', 'least-remnant', 'out', 'paper'],
    run: cutlist,
  },
  sheet: {
    options: [
      ...OF_A_TABLE,
      'models',
      'run',
      'lead',
      'out',
      'paper',
      'app-url',
      'tolerances',
      ...TITLE_OPTIONS,
      ...RELEASE_OPTIONS,
    ],
    run: sheet,
  },
  review: {
    options: [...OF_A_TABLE, 'models', 'out', 'paper', 'csv', 'since', ...TITLE_OPTIONS],
    run: review,
  },
  compare: { options: ['json', 'models', ...OF_A_TABLE], twoFiles: true, run: compare },
  strip: {
    options: [...OF_A_TABLE, 'run', 'lead', 'out', 'paper', 'form', 'bar-x', 'bar-y'],
    run: strip,
  },
  export: { options: [...OF_A_TABLE, 'models', 'run', 'to', 'out'], run: exportFile },
  rows: {
    options: ['json', 'od', 'wall', 'clr', ...TABLE_OPTIONS, ...ROW_OPTIONS],
    run: rows,
  },
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
    const [name, file, ...rest] = positionals
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
    const [other, ...more] = command.twoFiles ? rest : [undefined, ...rest]
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
  const findings = allFindings(document, solved, await modelsOf(document, { file, values, io }))
  const summary = solveReport(document, solved, findings)
  for (const run of solved) if (run.problem) io.err(`dogleg: ${run.tag}: ${run.problem.message}\n`)
  if (values.json) io.out(jsonText(summary))
  else io.out((programme ? `${solveText(document, solved)}\n` : '') + findingsText(document, findings))
  return summary.open > 0 ? 1 : 0
}

async function bench({ file, values, io }: Call): Promise<number> {
  const document = await documentFrom(file, values, io, { benderOfDocument: true })
  const options: BenchOptions = {
    benders: KNOWN_BENDERS.map(k => k.bender),
    lead: leadOption(values) ?? 'A',
    ...(typeof values.run === 'string' ? { run: values.run } : {}),
    ...(typeof values.bender === 'string' ? { bender: values.bender } : {}),
  }
  const made = benchReport(document, solveDocument(document), options)
  for (const run of made.runs) if ('problem' in run) io.err(`dogleg: ${run.tag}: ${run.problem}\n`)
  io.out(values.json ? jsonText(made) : benchText(made))
  const stopped = made.runs.some(
    run =>
      'problem' in run ||
      run.blocked !== null ||
      run.steps.some(s => s.hold !== null) ||
      decide(run.findings, document.acceptances).decided.some(isOpen),
  )
  return stopped ? 1 : 0
}

async function rows({ file, values, io }: Call): Promise<number> {
  const clr = lengthOption(values, 'clr')
  const legs = oneOf(values, 'lengths', { straights: false, legs: true }) ?? false
  const runs = tableRuns(file, await textOf(file, io), 'rows', values)
  const [run] = runs
  if (run?.kind !== 'rows' || runs.length > 1)
    throw new BadInput(`${file}: found ${runs.length} runs; wanted one, for points of one run`)
  const points = rowsToPoints(legs ? rowsFromLegs(run.rows, clr) : run.rows, clr, PLAIN_FRAME)
  io.out(values.json ? `${JSON.stringify({ points })}\n` : writePoints(points))
  return 0
}

async function clearance({ file, values, io }: Call): Promise<number> {
  const within = values.within === undefined ? DEFAULT_WITHIN : lengthOption(values, 'within')
  const document = await documentFrom(file, values, io)
  const models = await modelsOf(document, { file, values, io })
  const measured = clearanceReport(document, solveDocument(document), within, models)
  io.out(values.json ? jsonText(measured) : clearanceText(measured))
  return measured.pairs.some(p => p.clearance < p.required) ? 1 : 0
}

const NODE_IO: CommandIo = {
  read: async path => {
    const { size } = await stat(path)
    if (size > 4 * LONGEST_DOCUMENT) throw new Error(`found ${size} bytes; wanted at most 50 MB`)
    return readFile(path, 'utf8')
  },
  write: async (path, data) => {
    try {
      await writeFile(path, data)
    } catch (error) {
      throw new BadInput(
        `--out: ${path} cannot be written (${error instanceof Error ? error.message : error})`,
      )
    }
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

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url))
  process.exitCode = await main(process.argv.slice(2), NODE_IO)
