import { deleteVertex, insertVertex, movePoint, setEnd } from '../../document/edits.ts'
import { endPoint, runOf } from '../../document/lookUp.ts'
import type { Run, RunEnd, SkidDocument } from '../../document/types.ts'
import { addScaled, lerp, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { Edit } from '../fields/applyEdit.ts'
import { fromPolar, type Polar, toPolar } from './polar.ts'

/** How the three columns of the table of points are read. */
export type Reading = 'absolute' | 'relative' | 'polar'

const parts: readonly (keyof Polar)[] = ['length', 'bearing', 'rise']

/** The three figures of `at`, seen from `before` unless the reading is absolute. mm, or mm, degrees, degrees. */
export function figuresOf(reading: Reading, at: Vec3, before: Vec3): Vec3 {
  if (reading === 'absolute') return at
  if (reading === 'relative') return sub(at, before)
  const polar = toPolar(before, at)
  return [polar.length, polar.bearing, polar.rise]
}

/** Moves a point so that figure `which` of its reading is `to`; the other two stay. */
export function setFigure(
  runId: string,
  pointId: string,
  reading: Reading,
  which: 0 | 1 | 2,
  to: number,
  at: Vec3,
  before: Vec3,
): Edit {
  return document => {
    if (!runOf(document, runId)) return { refused: 'The run is no longer in the document.' }
    if (reading === 'polar') {
      if (which === 0 && !(to > 0)) return { refused: 'A leg needs a length above 0.' }
      if (which === 2 && !(to >= -90 && to <= 90)) return { refused: 'A rise goes from −90° to 90°.' }
      const polar = toPolar(before, at)
      return movePoint(document, runId, pointId, fromPolar(before, { ...polar, [parts[which]!]: to }))
    }
    const moved: [number, number, number] = [at[0], at[1], at[2]]
    moved[which] = reading === 'absolute' ? to : before[which] + to
    return movePoint(document, runId, pointId, moved)
  }
}

/** A new vertex half way along leg `leg`; gives the edit and, once done, the new point's id. */
export function insertHalfWay(document: SkidDocument, run: Run, leg: number) {
  const route = [endPoint(document, run.endA), ...run.vertices.map(v => v.at), endPoint(document, run.endB)]
  const a = route[leg]
  const b = route[leg + 1]
  if (!a || !b) return null
  return insertVertex(document, run.id, leg, lerp(a, b, 0.5))
}

/** How far a point added at a free end goes on past it, mm. */
const ADD_ON_MM = 100

/** Goes on past a free end B in the last leg's direction: the old end becomes a vertex. */
export function extendPastB(document: SkidDocument, run: Run) {
  if (run.endB.kind !== 'free') return null
  const end = run.endB.at
  const before = run.vertices.at(-1)?.at ?? endPoint(document, run.endA)
  const along = (before && unit(sub(end, before))) ?? [1, 0, 0]
  const { document: next, vertexId } = insertVertex(document, run.id, run.vertices.length, end)
  return {
    document: setEnd(next, run.id, 'B', { kind: 'free', at: addScaled(end, along as Vec3, ADD_ON_MM) }),
    vertexId,
  }
}

export function deletePoint(runId: string, pointId: string): Edit {
  return document =>
    pointId === 'A' || pointId === 'B'
      ? { refused: `End ${pointId} cannot be deleted: a run has two ends. Move it, or delete the run.` }
      : deleteVertex(document, runId, pointId)
}

/** Puts an end into a fitting's port, or frees it where it is ('' for fitting). */
export function attachEnd(runId: string, end: 'A' | 'B', fitting: string): Edit {
  return document => {
    const run = runOf(document, runId)
    if (!run) return { refused: 'The run is no longer in the document.' }
    const now = end === 'A' ? run.endA : run.endB
    const other = end === 'A' ? run.endB : run.endA
    if (fitting !== '' && other.kind === 'port' && other.fitting === fitting)
      return { refused: `End ${end === 'A' ? 'B' : 'A'} is already in that port.` }
    const to: RunEnd =
      fitting === '' ? { kind: 'free', at: endPoint(document, now) ?? [0, 0, 0] } : { kind: 'port', fitting }
    return setEnd(document, runId, end, to)
  }
}
