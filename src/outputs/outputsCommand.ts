import type { SkidDocument } from '../document/types.ts'
import { writePoints, writeRows } from '../document/writeTable.ts'
import type { Finding } from '../findings/finding.ts'
import { rowsOf } from '../solve/rows.ts'
import type { SolvedRun } from '../solve/types.ts'
import { billOfMaterial, billOfMaterialCsv, type MaterialLine, materialQuantity } from './billOfMaterial.ts'
import { type CutList, type CutOptions, cutList } from './cutList.ts'
import { type CutSheetOptions, cutListPdf } from './cutListSheet.ts'
import { type OrderOf, type SheetOptions, sheetPdf } from './fabricationSheet.ts'
import { jsonText } from './jsonText.ts'
import { type StripOptions, stripPdf } from './markingStrip.ts'
import { OutputError } from './outputError.ts'
import { decidedOf, type RunState, releaseState, runStates } from './releaseState.ts'
import { runDrawing, runDrawings } from './runDrawing.ts'
import { sheetBendOrder } from './sheetBendOrder.ts'
import { routeOrThrow, solidTubes } from './solidTubes.ts'
import { solveReport } from './solveReport.ts'
import { cutListCsv, cutListText } from './writeCutList.ts'
import { writeDxf } from './writeDxf.ts'
import { writeGlb } from './writeGlb.ts'
import { writeStep } from './writeStep.ts'
import { writeStl } from './writeStl.ts'
import { writeSvg } from './writeSvg.ts'

/** The run with this tag. @throws OutputError that lists the tags there are. */
export function runByTag(solved: readonly SolvedRun[], tag: string): SolvedRun {
  const found = solved.find(s => s.tag === tag)
  if (!found)
    throw new OutputError(
      '--run',
      `"${tag}"`,
      `one of ${solved.map(s => `"${s.tag}"`).join(', ') || 'no runs: the document has none'}`,
    )
  return found
}

/** `sheet FILE [--run TAG]`: one run's sheet, or a pack of all that have a route. PDF bytes. */
export async function sheetCommand(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: SheetOptions & { readonly run?: string; readonly orderOf?: OrderOf },
): Promise<Uint8Array> {
  const runs =
    options.run === undefined ? solved.filter(s => s.route !== null) : [runByTag(solved, options.run)]
  if (runs.length === 0)
    throw new OutputError('sheet', 'no run with a route', 'at least one run that can be solved')
  return sheetPdf(document, runs, options, options.orderOf)
}

/** The runs whose paper is stamped as held back: findings are open that nobody lets pass, or it cannot be made. */
export const heldRuns = (
  document: SkidDocument,
  runs: readonly SolvedRun[],
  options: Pick<SheetOptions, 'findings' | 'override'> & { readonly orderOf?: OrderOf },
): SolvedRun[] =>
  runs.filter(s => {
    if (s.route === null) return true
    const { findings } = sheetBendOrder(document, s, options.findings, options.orderOf?.(s))
    return releaseState(s, decidedOf(document, s.runId, findings), options.override).held
  })

/** `strip FILE --run TAG`. PDF bytes. */
export const stripCommand = async (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: StripOptions & { readonly run: string },
): Promise<Uint8Array> => stripPdf(document, runByTag(solved, options.run), options)

export type CutListFormat = 'text' | 'json' | 'csv' | 'material'

/** `cutlist FILE [--json]`: for reading, as data (with the bill of material), as CSV, or the bill of material as CSV. */
export function cutListCommand(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: CutOptions & { readonly format?: CutListFormat; readonly findings: readonly Finding[] | null },
): string {
  const list = cutList(document, solved, options)
  const states = runStates(document, solved, options.findings)
  switch (options.format ?? 'text') {
    case 'json':
      return cutListJson(list, billOfMaterial(document, solved, list), states)
    case 'csv':
      return cutListCsv(list, states)
    case 'material':
      return billOfMaterialCsv(billOfMaterial(document, solved, list))
    case 'text': {
      const material = billOfMaterial(document, solved, list).map(
        m =>
          `  ${m.kind === 'unused fitting' ? 'unused: ' : ''}${m.item}: ${materialQuantity(m)} ${m.unit}  (${m.note})`,
      )
      return `${cutListText(list, states)}\nBILL OF MATERIAL\n${material.join('\n')}\n`
    }
  }
}

/** The cut list with its bill of material and the runs' release states as data, full precision. */
export const cutListJson = (
  list: CutList,
  material: readonly MaterialLine[],
  states: readonly RunState[],
): string =>
  jsonText({ ...list, material, states: states.map(({ tag, text, detail }) => ({ tag, text, detail })) })

/** The cut list on paper, bars drawn to scale. PDF bytes. */
export const cutListSheetCommand = async (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: CutOptions & CutSheetOptions,
): Promise<Uint8Array> => cutListPdf(document, solved, cutList(document, solved, options), options)

export const EXPORTS = ['step', 'glb', 'stl', 'dxf', 'csv', 'rows', 'svg', 'json'] as const
export type ExportKind = (typeof EXPORTS)[number]

export interface ExportOptions {
  readonly to: ExportKind
  /** One run by its tag; all runs when left out. `csv` and `rows` hold one run; `svg` has the drawings of several one under another. */
  readonly run?: string
  /** Greatest distance of the triangles from the true surface, mm, for glb and stl. Default 0.1. */
  readonly chordError?: number
  /** ISO 8601 date-time, for step's header. */
  readonly date: string
  /** Findings, for json. */
  readonly findings?: readonly Finding[]
}

/**
 * `export FILE --to KIND`: text as UTF-8 bytes, or the binary file. `csv` is the points `x,y,z`, `rows` the bend rows
 * `straight,rotation,angle`; both read back by the table reader.
 *
 * @throws OutputError for an unknown kind or tag, a run that is no solid, or several runs where the file holds one.
 */
export function exportCommand(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: ExportOptions,
): Uint8Array {
  const { to, chordError } = options
  if (!EXPORTS.includes(to)) throw new OutputError('--to', `"${to}"`, `one of ${EXPORTS.join(', ')}`)
  const runs = options.run === undefined ? [...solved] : [runByTag(solved, options.run)]
  if (runs.length === 0) throw new OutputError('export', 'a document without runs', 'at least one run')
  const text = (s: string) => new TextEncoder().encode(s)
  const one = (): SolvedRun => {
    if (runs.length > 1)
      throw new OutputError(
        `export --to ${to}`,
        `${runs.length} runs`,
        `one of ${runs.map(r => r.tag).join(', ')}: this file holds one run`,
      )
    return runs[0]!
  }
  switch (to) {
    case 'step':
      return text(
        writeStep(solidTubes(document, runs), { date: options.date, name: `${document.name}.step` }),
      )
    case 'glb':
      return writeGlb(solidTubes(document, runs), chordError)
    case 'stl':
      return writeStl(solidTubes(document, runs), chordError)
    case 'dxf':
      return text(writeDxf(solidTubes(document, runs)))
    case 'csv':
      return text(writePoints(routeOrThrow(one()).points))
    case 'rows':
      return text(writeRows(rowsOf(routeOrThrow(one()))))
    case 'svg':
      return text(
        runs.length === 1
          ? writeSvg(runDrawing(document, one()), one().tag)
          : writeSvg(runDrawings(document, runs), document.name),
      )
    case 'json':
      return text(jsonText(solveReport(document, runs, options.findings ?? [])))
  }
}
