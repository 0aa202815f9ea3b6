import { allFindings } from './checks/allFindings.ts'
import { BadInput, type Call, documentFrom, lengthOption } from './cliInput.ts'
import type { SkidDocument } from './document/types.ts'
import { writePoints, writeRows } from './document/writeTable.ts'
import { cutList } from './outputs/cutList.ts'
import { sheetPages, sheetPdf } from './outputs/fabricationSheet.ts'
import { routeOrThrow, solidTubes } from './outputs/solidTubes.ts'
import { cutListText } from './outputs/writeCutList.ts'
import { writeDxf } from './outputs/writeDxf.ts'
import { writeGlb } from './outputs/writeGlb.ts'
import { writeStep } from './outputs/writeStep.ts'
import { writeStl } from './outputs/writeStl.ts'
import { writeSvg } from './outputs/writeSvg.ts'
import { solveDocument } from './solve/solveRun.ts'
import type { SolvedRun } from './solve/types.ts'

/** Runs that an output is made of, and what it needs besides. */
interface Job {
  readonly document: SkidDocument
  readonly runs: readonly SolvedRun[]
  /** ISO 8601 date-time of making, to the second. */
  readonly date: string
}

/** What `export --to` can write. */
const FORMATS: Readonly<Record<string, (job: Job) => string | Uint8Array>> = {
  step: ({ document, runs, date }) => writeStep(solidTubes(document, runs), { date, name: document.name }),
  glb: ({ document, runs }) => writeGlb(solidTubes(document, runs)),
  stl: ({ document, runs }) => writeStl(solidTubes(document, runs)),
  dxf: ({ document, runs }) => writeDxf(solidTubes(document, runs)),
  csv: job => writePoints(routeOrThrow(oneRun(job, 'csv')).points),
  rows: job => writeRows(routeOrThrow(oneRun(job, 'rows'))),
  svg: job => {
    const { document, date } = job
    const run = oneRun(job, 'svg')
    const findings = allFindings(document, solveDocument(document))
    const pages = sheetPages(document, run, { date, findings, paper: 'A3' })
    if (pages.length !== 1)
      throw new BadInput(
        `--to svg: found a sheet of ${pages.length} pages; wanted one. Use the sheet command`,
      )
    return writeSvg(pages[0]!, `Fabrication sheet ${run.tag}`)
  },
}

/** `export FILE --to FORMAT --out F`. */
export async function exportFile(call: Call): Promise<number> {
  const { values, io } = call
  const name = values.to
  const format = typeof name === 'string' && Object.hasOwn(FORMATS, name) ? FORMATS[name] : undefined
  const known = Object.keys(FORMATS).join(', ')
  if (!format)
    throw new BadInput(`--to: found ${name === undefined ? 'nothing' : `"${name}"`}; wanted one of ${known}`)
  const out = outOption(call)
  await io.write(out, format(await jobOf(call)))
  return 0
}

/** `sheet FILE --out F.pdf`: one run's sheet or a pack of all. Each sheet says itself whether it is released. */
export async function sheet(call: Call): Promise<number> {
  const paper = call.values.paper ?? 'A4'
  if (paper !== 'A4' && paper !== 'A3' && paper !== 'Letter')
    throw new BadInput(`--paper: found "${paper}"; wanted A4, A3 or Letter`)
  const out = outOption(call)
  const { document, runs, date } = await jobOf(call)
  const findings = allFindings(document, solveDocument(document))
  await call.io.write(out, sheetPdf(document, runs, { date, findings, paper }))
  return 0
}

/** `cutlist FILE`: all runs nested on stock. Exit 1 when a run could not be put in it. */
export async function cutlist({ file, values, io }: Call): Promise<number> {
  const document = await documentFrom(file, values, io)
  const stock = values.stock === undefined ? {} : { stockLengths: [lengthOption(values, 'stock')] }
  const list = cutList(document, solveDocument(document), stock)
  for (const { tag, reason } of list.leftOut) io.err(`dogleg: ${tag} is not in the cut list: ${reason}\n`)
  io.out(values.json ? `${JSON.stringify(list, null, 2)}\n` : `${cutListText(list).trimEnd()}\n`)
  return list.leftOut.length > 0 ? 1 : 0
}

async function jobOf({ file, values, io }: Call): Promise<Job> {
  const document = await documentFrom(file, values, io)
  const solved = solveDocument(document)
  const runs = values.run === undefined ? solved : solved.filter(s => s.tag === values.run)
  const tags = solved.map(s => `"${s.tag}"`).join(', ')
  if (runs.length === 0)
    throw new BadInput(`--run: found "${values.run}"; wanted one of ${tags || 'no runs at all'}`)
  return { document, runs, date: new Date().toISOString().slice(0, 19) }
}

function oneRun({ runs }: Job, format: string): SolvedRun {
  const [first, ...more] = runs
  if (first && more.length === 0) return first
  const tags = runs.map(s => s.tag).join(', ')
  throw new BadInput(`--to ${format}: found ${runs.length} runs; wanted one, named by --run: ${tags}`)
}

function outOption({ values }: Call): string {
  if (typeof values.out === 'string' && values.out !== '') return values.out
  throw new BadInput('--out: found nothing; wanted the file to write')
}
