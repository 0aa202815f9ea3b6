import type { Vec3 } from '../geometry/vec3.ts'
import { endPoint } from './lookUp.ts'
import type { Fitting, Run, RunEnd, SkidDocument, Solid, Vertex } from './types.ts'

/** Every edit takes a document and gives a new one; what it does not touch keeps its identity. */

/** An id `stem` + number that none of `taken` has. */
export function freshId(stem: string, taken: Iterable<string>): string {
  const have = new Set(taken)
  let n = have.size + 1
  while (have.has(`${stem}${n}`)) n++
  return `${stem}${n}`
}

/** @throws RangeError when the document has no such run. */
export function editRun(document: SkidDocument, runId: string, edit: (run: Run) => Run): SkidDocument {
  let found = false
  const runs = document.runs.map(run => {
    if (run.id !== runId) return run
    found = true
    return edit(run)
  })
  if (!found) throw new RangeError(`editRun: the document has no run "${runId}"`)
  return { ...document, runs }
}

export const addRun = (document: SkidDocument, run: Run): SkidDocument => ({
  ...document,
  runs: [...document.runs, run],
})

export const removeRun = (document: SkidDocument, runId: string): SkidDocument => ({
  ...document,
  runs: document.runs.filter(r => r.id !== runId),
  supports: document.supports.filter(s => s.run !== runId),
})

/** Moves a route point: a vertex by id, or a free end by 'A' or 'B'. An end in a port stays: its fitting moves. */
export function movePoint(document: SkidDocument, runId: string, pointId: string, at: Vec3): SkidDocument {
  return editRun(document, runId, run => {
    if (pointId === 'A') return run.endA.kind === 'free' ? { ...run, endA: { kind: 'free', at } } : run
    if (pointId === 'B') return run.endB.kind === 'free' ? { ...run, endB: { kind: 'free', at } } : run
    return { ...run, vertices: run.vertices.map(v => (v.id === pointId ? { ...v, at } : v)) }
  })
}

/** Puts a new vertex on a leg (leg 0 starts at end A). Gives the new document and the vertex's id. */
export function insertVertex(
  document: SkidDocument,
  runId: string,
  leg: number,
  at: Vec3,
): { document: SkidDocument; vertexId: string } {
  let vertexId = ''
  const next = editRun(document, runId, run => {
    vertexId = freshId(
      'v',
      run.vertices.map(v => v.id),
    )
    const vertices = [...run.vertices]
    vertices.splice(leg, 0, { id: vertexId, at })
    return { ...run, vertices }
  })
  return { document: next, vertexId }
}

export const deleteVertex = (document: SkidDocument, runId: string, vertexId: string): SkidDocument =>
  editRun(document, runId, run => ({ ...run, vertices: run.vertices.filter(v => v.id !== vertexId) }))

/** Replaces all vertices by points, keeping the ids of those that stay in place order. */
export const replaceVertices = (
  document: SkidDocument,
  runId: string,
  points: readonly Vec3[],
): SkidDocument =>
  editRun(document, runId, run => {
    const ids = run.vertices.map(v => v.id)
    const vertices: Vertex[] = points.map((at, i) => {
      const id = ids[i] ?? freshId('v', ids)
      if (i >= ids.length) ids.push(id)
      return { id, at }
    })
    return { ...run, vertices }
  })

export const setEnd = (document: SkidDocument, runId: string, end: 'A' | 'B', to: RunEnd): SkidDocument =>
  editRun(document, runId, run => (end === 'A' ? { ...run, endA: to } : { ...run, endB: to }))

export const addFitting = (document: SkidDocument, fitting: Fitting): SkidDocument => ({
  ...document,
  fittings: [...document.fittings, fitting],
})

export const editFitting = (document: SkidDocument, id: string, patch: Partial<Fitting>): SkidDocument => ({
  ...document,
  fittings: document.fittings.map(f => (f.id === id ? { ...f, ...patch } : f)),
})

/** Removes a fitting; runs that ended in it keep their end where it was, as a free end. */
export function removeFitting(document: SkidDocument, id: string): SkidDocument {
  const freed = (end: RunEnd): RunEnd => {
    if (end.kind !== 'port' || end.fitting !== id) return end
    return { kind: 'free', at: endPoint(document, end) ?? [0, 0, 0] }
  }
  return {
    ...document,
    fittings: document.fittings.filter(f => f.id !== id),
    solids: document.solids.map(s => (s.fitting === id ? { ...s, fitting: null } : s)),
    models: document.models.map(m =>
      m.fitting === id || m.parts.some(p => p.fitting === id)
        ? {
            ...m,
            fitting: m.fitting === id ? null : m.fitting,
            parts: m.parts.map(p => (p.fitting === id ? { ...p, fitting: null } : p)),
          }
        : m,
    ),
    runs: document.runs.map(run => {
      const endA = freed(run.endA)
      const endB = freed(run.endB)
      return endA === run.endA && endB === run.endB ? run : { ...run, endA, endB }
    }),
  }
}

export const addSolid = (document: SkidDocument, solid: Solid): SkidDocument => ({
  ...document,
  solids: [...document.solids, solid],
})

export const editSolid = (
  document: SkidDocument,
  id: string,
  edit: (solid: Solid) => Solid,
): SkidDocument => ({
  ...document,
  solids: document.solids.map(s => (s.id === id ? edit(s) : s)),
})

export const removeSolid = (document: SkidDocument, id: string): SkidDocument => ({
  ...document,
  solids: document.solids.filter(s => s.id !== id),
})
