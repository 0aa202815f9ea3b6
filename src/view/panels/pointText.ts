import { replaceVertices, setEnd } from '../../document/edits.ts'
import { endPoint } from '../../document/lookUp.ts'
import { exactLength, type LengthUnit } from '../../document/quantity.ts'
import { readPoints } from '../../document/readTable.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'

/** Points as a spreadsheet takes them: a header, then one point a line, tab-separated, in `unit`, exact. */
export function pointsToText(points: readonly Vec3[], unit: LengthUnit): string {
  const head = ['x', 'y', 'z'].map(c => `${c} ${unit === 'mm' ? 'mm' : 'in'}`).join('\t')
  return [head, ...points.map(p => p.map(c => exactLength(c, unit)).join('\t'))].join('\n')
}

export type ReadText =
  | { readonly ok: true; readonly points: readonly Vec3[] }
  | { readonly ok: false; readonly reason: string }

/**
 * Points from pasted lines, as {@link readPoints} reads tables. A bare figure is in the unit that the header names
 * (`x mm`, `x in`), else in `unit`: points copied in one unit are the same points pasted while another is shown.
 */
export function textToPoints(text: string, unit: LengthUnit): ReadText {
  const head = /^\s*"?x\s*\(?(mm|in)\)?"?[\t,;]/i.exec(text)
  const plain = head ? text.replace(/^.*$/m, line => line.replace(/([xyz])\s*\(?(?:mm|in)\)?/gi, '$1')) : text
  const named = head?.[1]?.toLowerCase()
  const read = readPoints(plain.trimStart(), { unit: named === 'mm' ? 'mm' : named === 'in' ? 'in' : unit })
  return read.ok ? read : { ok: false, reason: read.errors[0]?.message ?? 'found no points' }
}

/**
 * Writes points over the route from row `row` on (0 is end A). What goes past the last row makes new points; the last
 * one then becomes a free end B. A port's place cannot be written over: pasting its own place there is fine.
 */
export function pastePoints(
  document: SkidDocument,
  run: Run,
  row: number,
  points: readonly Vec3[],
): SkidDocument | { refused: string } {
  const route: (Vec3 | null)[] = [
    endPoint(document, run.endA),
    ...run.vertices.map(v => v.at),
    endPoint(document, run.endB),
  ]
  const last = route.length - 1
  const reachesB = row + points.length - 1 >= last
  const portB = run.endB.kind === 'port' ? route[last] : null
  const portA = run.endA.kind === 'port' ? route[0] : null
  const near = (a: Vec3, b: Vec3) => distance(a, b) <= 1e-6
  if (row === 0 && portA && !near(portA, points[0]!))
    return { refused: 'End A sits in a port: move its fitting, or paste from the row below.' }
  const endsInB = reachesB && (!portB || near(portB, points.at(-1)!))
  const vertices = run.vertices.map(v => v.at)
  const taken = row === 0 ? points.slice(1) : points
  const forVertices = endsInB ? taken.slice(0, -1) : taken
  vertices.splice(Math.max(0, row - 1), forVertices.length, ...forVertices)
  if (endsInB) vertices.length = Math.max(0, row - 1) + forVertices.length
  let next = replaceVertices(document, run.id, vertices)
  if (row === 0 && run.endA.kind === 'free')
    next = setEnd(next, run.id, 'A', { kind: 'free', at: points[0]! })
  if (endsInB && run.endB.kind === 'free')
    next = setEnd(next, run.id, 'B', { kind: 'free', at: points.at(-1)! })
  return next
}
