import { editRun } from '../document/edits.ts'
import { runOf } from '../document/lookUp.ts'
import type { RunEnd, SkidDocument } from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import { makingOf } from './making.ts'
import { endFrame, type Rows, reversedRows, rowsOf, rowsToPoints, startFrame } from './rows.ts'
import { solveRun } from './solveRun.ts'

export type RowEdit =
  | { readonly kind: 'straight'; readonly index: number; readonly to: number }
  | { readonly kind: 'angle'; readonly index: number; readonly to: number }
  | { readonly kind: 'rotation'; readonly index: number; readonly to: number }

export type RowEditResult =
  | { readonly ok: true; readonly document: SkidDocument }
  | { readonly ok: false; readonly reason: string }

/**
 * Sets one straight (mm), bend angle or plane rotation (degrees) of a run. Everything from `keep`'s end up to the
 * edited row stays put; the rest follows rigidly, except an end in a port, which stays in its port: the leg there
 * takes up the difference.
 *
 * @returns the new document, or the reason why the edit can have no effect or no meaning. Never throws for user input.
 */
export function editRow(
  document: SkidDocument,
  runId: string,
  edit: RowEdit,
  keep: 'A' | 'B',
): RowEditResult {
  const run = runOf(document, runId)
  if (!run) return { ok: false, reason: `The document has no run "${runId}".` }
  const { route, problem } = solveRun(document, run)
  if (!route) return { ok: false, reason: `The route must be solvable first: ${problem?.message ?? ''}` }
  if (route.passedThrough.length > 0)
    return {
      ok: false,
      reason: `Point ${route.passedThrough[0]! + 1} is not a bend; delete it before editing the bend table.`,
    }
  const n = route.bends.length
  const moving = keep === 'A' ? run.endB : run.endA
  const reaches =
    edit.kind === 'straight'
      ? keep === 'A'
        ? edit.index < n
        : edit.index > 0
      : edit.kind === 'angle'
        ? keep === 'A'
          ? edit.index < n - 1
          : edit.index > 0
        : keep === 'A'
          ? edit.index < n - 1
          : edit.index > 1
  if (moving.kind === 'port' && !reaches)
    return {
      ok: false,
      reason: `End ${keep === 'A' ? 'B' : 'A'} stays in its port, so nothing is left to move. Keep end ${
        keep === 'A' ? 'B' : 'A'
      } instead, or move a point.`,
    }
  const rows = changed(rowsOf(route), edit)
  const { clr } = makingOf(document, run)
  let points: Vec3[]
  try {
    points =
      keep === 'A'
        ? rowsToPoints(rows, clr, startFrame(route))
        : rowsToPoints(reversedRows(rows), clr, endFrame(route)).reverse()
  } catch (error) {
    return { ok: false, reason: error instanceof Error ? error.message : String(error) }
  }
  const free = (end: RunEnd, at: Vec3): RunEnd => (end.kind === 'free' ? { kind: 'free', at } : end)
  return {
    ok: true,
    document: editRun(document, runId, r => ({
      ...r,
      endA: keep === 'A' ? r.endA : free(r.endA, points[0]!),
      endB: keep === 'B' ? r.endB : free(r.endB, points[points.length - 1]!),
      vertices: r.vertices.map((v, i) => ({ ...v, at: points[i + 1]! })),
    })),
  }
}

function changed(rows: Rows, edit: RowEdit): Rows {
  if (edit.kind === 'straight')
    return { ...rows, straights: rows.straights.map((s, i) => (i === edit.index ? edit.to : s)) }
  const field = edit.kind === 'angle' ? 'angle' : 'rotation'
  return { ...rows, bends: rows.bends.map((b, i) => (i === edit.index ? { ...b, [field]: edit.to } : b)) }
}
