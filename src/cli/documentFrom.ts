import { basename, extname } from 'node:path'
import { KNOWN_BENDERS, knownBender } from '../document/knownBenders.ts'
import { documentOfRoutes } from '../document/newDocument.ts'
import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleNames } from '../document/visibleNames.ts'
import { BadInput, badFile } from './badInput.ts'
import type { Asked, AskedIo, Given } from './command.ts'
import { OF_A_TABLE } from './options.ts'
import { lengthOption, oneOf, PAPER_UNITS } from './optionValue.ts'
import { tableRuns } from './tableRuns.ts'

/** A table's bare lengths that are to be written as fractions are inches. */
const withBareUnit = (values: Given): Given =>
  values['unit'] === 'fraction' ? { ...values, unit: 'in' } : values

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
  values: Given,
  io: AskedIo,
  allowed: { readonly benderOfDocument?: boolean; readonly unitOfPaper?: boolean } = {},
): Promise<SkidDocument> {
  const text = await textOf(file, io)
  const kind = extname(file).toLowerCase()
  const isTable = kind === '.csv' || kind === '.tsv' || (kind !== '.json' && !/^\uFEFF?\s*[[{]/.test(text))
  if (!isTable) {
    const meant = [allowed.benderOfDocument && 'bender', allowed.unitOfPaper && 'unit']
    const forTables = Object.keys(OF_A_TABLE).filter(o => !meant.includes(o))
    const given = forTables.find(o => values[o] !== undefined)
    if (given)
      throw new BadInput(
        `--${given}: ${file} is a skid document, which states its own; wanted it for a CSV${given === 'unit' ? ', or for sheet, strip and review' : ' only'}`,
      )
    if (allowed.unitOfPaper) oneOf(values, 'unit', PAPER_UNITS)
    const read = readDocument(text)
    if (!read.ok) throw badFile(file, read.errors)
    return read.document
  }
  if (values['models'] !== undefined)
    throw new BadInput(
      `--models: ${file} is a table, which has no models; wanted it for a skid document only`,
    )
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

/** The same for a command that prints: for JSON as it is, for a person with its names made readable. */
export async function printedDocument(
  { file, values, io }: Asked,
  allowed: Parameters<typeof documentFrom>[3] = {},
): Promise<SkidDocument> {
  const document = await documentFrom(file, values, io, allowed)
  return values['json'] ? document : visibleNames(document)
}

function benderOption(values: Given) {
  const bender = values['bender']
  if (typeof bender !== 'string') return null
  const known = knownBender(bender)
  if (known) return known.bender
  const ids = KNOWN_BENDERS.map(k => k.bender.id).join(', ')
  throw new BadInput(`--bender: found "${bender}"; wanted one of ${ids}`)
}

/** The file's text. @throws BadInput when it cannot be read. */
export async function textOf(file: string, io: AskedIo): Promise<string> {
  try {
    return await io.read(file)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null
    const why =
      code === 'ENOENT'
        ? 'found no such file; wanted an existing one'
        : code === 'EISDIR'
          ? 'found a folder; wanted a file'
          : error instanceof Error
            ? error.message
            : error
    throw new BadInput(`${file || '""'}: ${why}`)
  }
}
