import type { TableRun } from '../../document/tableRows.ts'
import { add, addScaled, cross, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { BendRadius } from '../../solve/making.ts'
import { PLAIN_FRAME, rowsToPoints, type StartFrame, squareFrame } from '../../solve/rows.ts'
import { rowsFromLegs } from '../../solve/rowsFromLegs.ts'

/** Where the first run of a table begins, and for rows where it heads and turns first. */
export type Start =
  | { readonly kind: 'asWritten' }
  | { readonly kind: 'at'; readonly at: Vec3; readonly heading: Vec3; readonly towards: Vec3 }
  | { readonly kind: 'frame'; readonly frame: StartFrame }

export interface Placing {
  readonly start: Start
  /** What the lengths of rows run between: tangent points, or intersections. */
  readonly lengths: 'straights' | 'legs'
  readonly clr: BendRadius
}

export type Placed =
  | { readonly ok: true; readonly routes: readonly (readonly Vec3[])[] }
  | { readonly ok: false; readonly reason: string }

/** How far each further run of rows begins from the one before, which says nothing of its place; mm. */
export const ROWS_APART_MM = 100

/**
 * The route points of a table's runs where they are to stand, mm; or why they cannot stand there. Points move
 * together, so that they keep their places to each other.
 */
export function placeRuns(runs: readonly TableRun[], placing: Placing): Placed {
  const { start, lengths, clr } = placing
  const frame = frameOf(start)
  if (!frame && runs.some(r => r.kind === 'rows'))
    return { ok: false, reason: 'The first bend cannot turn towards the direction the tube already heads.' }
  const first = runs[0]?.kind === 'points' ? runs[0].points[0] : undefined
  const shift = start.kind === 'at' && first ? sub(start.at, first) : null
  const routes: Vec3[][] = []
  for (const run of runs) {
    if (run.kind === 'points') {
      if (run.points.length < 2)
        return { ok: false, reason: `Row ${run.row} is a route of one point: wanted end A and end B.` }
      routes.push(run.points.map(p => (shift ? add(p, shift) : p)))
    } else if (frame) {
      const origin = addScaled(frame.origin, frame.normal, ROWS_APART_MM * routes.length)
      const rows = lengths === 'legs' ? rowsFromLegs(run.rows, clr) : run.rows
      routes.push(rowsToPoints(rows, clr, { ...frame, origin }))
    }
  }
  return { ok: true, routes }
}

function frameOf(start: Start): StartFrame | null {
  if (start.kind === 'frame') return start.frame
  if (start.kind === 'asWritten') return PLAIN_FRAME
  const heading = unit(start.heading)
  return heading && squareFrame(start.at, heading, cross(heading, start.towards))
}
