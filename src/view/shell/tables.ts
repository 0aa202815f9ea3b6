import { inUnit } from '../../document/sentence.ts'
import { writePoints, writeRows } from '../../document/writeTable.ts'
import { rowsOf } from '../../solve/rows.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'

export type TableKind = 'points' | 'rows'

const say = (message: string) => sessionStore.getState().say(message)

/** Downloads the points or bend rows of the run in hand, mm and degrees, with every digit. */
export function exportTable(kind: TableKind): void {
  const { document } = documentStore.getState()
  const solved = solvedRunOf(document, sessionStore.getState().runInHand)
  if (solved?.route) writeTable(kind, solved.tag, solved.route)
  else if (!solved) say('Select a run first: a table is of one run.')
  else if (solved.problem) {
    const { unit } = sessionStore.getState()
    say(`${solved.tag} has no solution to write: ${inUnit(solved.problem.sentence, unit)}`)
  }
}

function writeTable(kind: TableKind, tag: string, route: SolvedRoute): void {
  const text = kind === 'points' ? writePoints(route.points) : writeRows(rowsOf(route))
  download(fileNameFor(`${tag}-${kind}`, '.csv'), text, 'text/csv')
  say(`${tag}: ${kind === 'points' ? 'points' : 'bend rows'} written in millimetres and degrees.`)
}
