import { basename, extname } from 'node:path'
import { BadInput, listed } from './badInput.ts'
import { oneOf, TABLE_OPTIONS, tableRuns } from './cliTable.ts'
import { KNOWN_BENDERS, knownBender } from './document/knownBenders.ts'
import { documentOfRoutes } from './document/newDocument.ts'
import { BARE_UNITS, type LengthUnit, parseLength } from './document/quantity.ts'
import { readDocument } from './document/readDocument.ts'
import type { SkidDocument } from './document/types.ts'

/** Where model files are looked for; a test hands in its own. */
export interface ModelFolder {
  /** The files of a folder, not of those below it. @throws Error when it cannot be looked into. */
  readonly list: (folder: string) => Promise<readonly { readonly name: string; readonly bytes: number }[]>
  /** @throws Error when it cannot be read. */
  readonly bytes: (path: string) => Promise<Uint8Array<ArrayBuffer>>
}

/** Where the command line reads and writes; a test hands in its own. */
export interface CommandIo {
  /** The file's text. @throws Error when it cannot be read. */
  readonly read: (path: string) => Promise<string>
  /** @throws Error when it cannot be written. */
  readonly write: (path: string, data: string | Uint8Array) => Promise<void>
  /** Where model files are; left out: there are none. */
  readonly files?: ModelFolder
  readonly out: (text: string) => void
  readonly err: (text: string) => void
}

/** Every option of every command; a command lists those it takes. */
export const OPTIONS = {
  json: { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
  od: { type: 'string' },
  wall: { type: 'string' },
  clr: { type: 'string' },
  bender: { type: 'string' },
  within: { type: 'string' },
  models: { type: 'string' },
  run: { type: 'string' },
  lead: { type: 'string' },
  to: { type: 'string' },
  out: { type: 'string' },
  paper: { type: 'string' },
  csv: { type: 'boolean' },
  since: { type: 'string' },
  form: { type: 'string' },
  'bar-x': { type: 'string' },
  'bar-y': { type: 'string' },
  stock: { type: 'string', multiple: true },
  remnant: { type: 'string', multiple: true },
  kerf: { type: 'string' },
  trim: { type: 'string' },
  'least-remnant': { type: 'string' },
  'app-url': { type: 'string' },
  columns: { type: 'string' },
  delimiter: { type: 'string' },
  decimal: { type: 'string' },
  unit: { type: 'string' },
  owner: { type: 'string' },
  number: { type: 'string' },
  title: { type: 'string' },
  creator: { type: 'string' },
  approver: { type: 'string' },
  revision: { type: 'string' },
  tolerances: { type: 'string' },
  'released-by': { type: 'string' },
  reason: { type: 'string' },
  turns: { type: 'string' },
  lengths: { type: 'string' },
} as const
export type Values = {
  readonly [K in keyof typeof OPTIONS]?: (typeof OPTIONS)[K] extends { multiple: true }
    ? string[] | undefined
    : string | boolean | undefined
}

/** One command's file, options and way out. */
export interface Call {
  readonly file: string
  /** The second file of a command that takes two. */
  readonly other?: string
  readonly values: Values
  readonly io: CommandIo
}

/** What lengths are written in on paper, by `--unit`. */
export const PAPER_UNITS: Readonly<Record<string, LengthUnit>> = { mm: 'mm', in: 'in', fraction: 'fraction' }

/** The unit of paper: mm when not given; of a table's metric units mm, of its inches and feet decimal inches. */
export function paperUnit(values: Values): LengthUnit {
  const bare = BARE_UNITS.map((u): [string, LengthUnit] => [u, u === 'in' || u === 'ft' ? 'in' : 'mm'])
  return oneOf(values, 'unit', { ...Object.fromEntries(bare), ...PAPER_UNITS }) ?? 'mm'
}

/** A table's bare lengths that are to be written as fractions are inches. */
const withBareUnit = (values: Values): Values =>
  values.unit === 'fraction' ? { ...values, unit: 'in' } : values

/**
 * The document in the file, or the document of the points in it.
 *
 * @param allowed.benderOfDocument `--bender` means something for a skid document too: one of its own benders.
 * @param allowed.unitOfPaper `--unit` is what lengths are written in: for a table its own unit, for a document any of
 *   {@link PAPER_UNITS}.
 * @throws BadInput naming what was found where.
 */
export async function documentFrom(
  file: string,
  values: Values,
  io: CommandIo,
  allowed: { readonly benderOfDocument?: boolean; readonly unitOfPaper?: boolean } = {},
): Promise<SkidDocument> {
  const text = await textOf(file, io)
  const kind = extname(file).toLowerCase()
  const isTable = kind === '.csv' || kind === '.tsv' || (kind !== '.json' && !/^\uFEFF?\s*[[{]/.test(text))
  if (!isTable) {
    const meant = [allowed.benderOfDocument && 'bender', allowed.unitOfPaper && 'unit']
    const forTables = ['od', 'wall', 'clr', 'bender', ...TABLE_OPTIONS].filter(o => !meant.includes(o))
    const given = forTables.find(o => values[o as keyof Values] !== undefined)
    if (given)
      throw new BadInput(
        `--${given}: ${file} is a skid document and says it itself; wanted it for a CSV only`,
      )
    if (allowed.unitOfPaper) oneOf(values, 'unit', PAPER_UNITS)
    const read = readDocument(text)
    if (!read.ok) throw new BadInput(listed(file, read.errors))
    return read.document
  }
  const od = lengthOption(values, 'od')
  const wall = lengthOption(values, 'wall')
  const clr = lengthOption(values, 'clr')
  if (2 * wall >= od) throw new BadInput(`--wall: found ${wall} mm; wanted less than half the OD of ${od} mm`)
  const name = basename(file, extname(file)) || 'route'
  const routes = tableRuns(file, text, 'points', allowed.unitOfPaper ? withBareUnit(values) : values).map(
    run => {
      const points = run.kind === 'points' ? run.points : []
      if (points.length < 2)
        throw new BadInput(
          `${file}: found a route of one point${run.tag && `, "${run.tag}" at row ${run.row}`}; wanted at least two, end A and end B`,
        )
      return { tag: run.tag || name, points }
    },
  )
  return documentOfRoutes(routes, { name, od, wall, clr, bender: benderOption(values) })
}

function benderOption(values: Values) {
  if (typeof values.bender !== 'string') return null
  const known = knownBender(values.bender)
  if (known) return known.bender
  const ids = KNOWN_BENDERS.map(k => k.bender.id).join(', ')
  throw new BadInput(`--bender: found "${values.bender}"; wanted one of ${ids}`)
}

/** The option's length in mm, ≥ 0; undefined when it is not given. */
export function lengthOrNothing(values: Values, name: 'kerf' | 'trim' | 'least-remnant'): number | undefined {
  const text = values[name]
  if (typeof text !== 'string') return undefined
  const length = parseLength(text, 'mm')
  if (!length.ok) throw new BadInput(`--${name}: found "${text}"; wanted a length in mm (${length.reason})`)
  if (!(length.mm >= 0)) throw new BadInput(`--${name}: found ${length.mm} mm; wanted 0 or more`)
  return length.mm
}

/** The option's length in mm, > 0. */
export function lengthOption(
  values: Values,
  name: 'od' | 'wall' | 'clr' | 'within' | 'bar-x' | 'bar-y',
): number {
  const text = values[name]
  if (typeof text !== 'string')
    throw new BadInput(`--${name}: found nothing; wanted a length in mm, as in --${name} 12`)
  const length = parseLength(text, 'mm')
  if (!length.ok) throw new BadInput(`--${name}: found "${text}"; wanted a length in mm (${length.reason})`)
  if (!(length.mm > 0)) throw new BadInput(`--${name}: found ${length.mm} mm; wanted more than 0`)
  return length.mm
}

/** `--lead`: the end that leads through all bends, or the best order; null when it is not given. */
export function leadOption({ lead }: Values): 'A' | 'B' | 'best' | null {
  if (lead === undefined) return null
  if (lead === 'A' || lead === 'B' || lead === 'best') return lead
  throw new BadInput(`--lead: found "${lead}"; wanted A, B or best`)
}

/** The file's text. @throws BadInput when it cannot be read. */
export async function textOf(file: string, io: CommandIo): Promise<string> {
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
