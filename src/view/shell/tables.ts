import { editRun } from '../../document/edits.ts'
import { readPoints, readRows } from '../../document/readTable.ts'
import type { TableError } from '../../document/tableError.ts'
import type { RunEnd, SkidDocument } from '../../document/types.ts'
import { writePoints, writeRows } from '../../document/writeTable.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import { PLAIN_FRAME, rowsOf, rowsToPoints } from '../../solve/rows.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { download, fileNameFor, pickText, textOf } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { addNewRun } from '../panels/addNewRun.ts'
import { showDialog } from './dialogStore.ts'

export type TableKind = 'points' | 'rows'

/** An end this near a port is in that port. Millimetres; wider than what a table loses in writing. */
const IN_PORT_MM = 1e-3

const say = (message: string) => sessionStore.getState().say(message)

/** Asks for a table and makes a run of it: nothing that is there is written over. One undo takes it away. */
export async function importTable(kind: TableKind): Promise<void> {
  let file: File
  try {
    file = await pickText('Table', ['.csv', '.tsv', '.txt'])
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return
    return say(`The table could not be read: ${error instanceof Error ? error.message : String(error)}`)
  }
  const text = await textOf(file)
  if (typeof text !== 'string') {
    if (text.kind === 'refused') showDialog({ kind: 'refused', name: file.name, faults: text.faults })
    return
  }
  const { settled, apply } = documentStore.getState()
  const base = addNewRun(settled, '', '')
  const points = pointsOf(kind, text, base.run.clr)
  if (!points.ok) {
    const faults = points.errors.map(({ found, wanted, message }) => ({ path: '', found, wanted, message }))
    return showDialog({ kind: 'refused', name: file.name, faults })
  }
  const next = withPoints(base.document, base.run.id, points.points)
  apply(`Import ${base.run.tag}`, () => next)
  sessionStore.getState().select({ kind: 'run', run: base.run.id })
  sessionStore.getState().look({ kind: 'fitSelection' })
  say(`${base.run.tag} made of ${points.points.length} points from “${file.name}”.`)
}

type Points =
  | { readonly ok: true; readonly points: readonly Vec3[] }
  | { readonly ok: false; readonly errors: readonly Pick<TableError, 'found' | 'wanted' | 'message'>[] }

function pointsOf(kind: TableKind, text: string, clr: number): Points {
  if (kind === 'rows') {
    const read = readRows(text, { headerNeeded: true })
    return read.ok ? { ok: true, points: rowsToPoints(read.rows, clr, PLAIN_FRAME) } : read
  }
  const read = readPoints(text, { headerNeeded: true })
  if (!read.ok || read.points.length > 1) return read
  const [found, wanted] = ['one point', 'at least two: end A and end B']
  return { ok: false, errors: [{ found, wanted, message: `the table: found ${found}; wanted ${wanted}` }] }
}

/** The run with these points, its ends in the ports that stand exactly there. */
function withPoints(document: SkidDocument, runId: string, points: readonly Vec3[]): SkidDocument {
  const end = (at: Vec3): RunEnd => {
    const port = document.fittings.find(f => distance(f.position, at) <= IN_PORT_MM)
    return port ? { kind: 'port', fitting: port.id } : { kind: 'free', at }
  }
  return editRun(document, runId, run => ({
    ...run,
    endA: end(points[0]!),
    vertices: points.slice(1, -1).map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: end(points.at(-1)!),
  }))
}

/** Downloads the points or bend rows of the run in hand, mm and degrees, with every digit. */
export function exportTable(kind: TableKind): void {
  const { document } = documentStore.getState()
  const solved = solvedRunOf(document, sessionStore.getState().runInHand)
  if (solved?.route) writeTable(kind, solved.tag, solved.route)
  else if (!solved) say('Pick a run first: a table is of one run.')
  else say(`${solved.tag} has no solution to write: ${solved.problem?.message ?? ''}`)
}

function writeTable(kind: TableKind, tag: string, route: SolvedRoute): void {
  const text = kind === 'points' ? writePoints(route.points) : writeRows(rowsOf(route))
  download(fileNameFor(`${tag}-${kind}`, '.csv'), text, 'text/csv')
  say(`${tag}: ${kind === 'points' ? 'points' : 'bend rows'} written in millimetres and degrees.`)
}
