import { addRun, editRun, freshId, replaceVertices } from '../../document/edits.ts'
import { KNOWN_BENDERS } from '../../document/knownBenders.ts'
import { emptyDocument } from '../../document/newDocument.ts'
import type { TableRun } from '../../document/tableRows.ts'
import type { Run, RunEnd, SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import { makingOf } from '../../solve/making.ts'
import { addNewRun, freshTag } from '../panels/addNewRun.ts'
import { changesOf } from './changesOf.ts'
import { type Placing, placeRuns } from './placeRuns.ts'

/** An end this near a port is in that port. Millimetres; wider than what a table loses in writing. */
const IN_PORT_MM = 1e-3

export type Target =
  | { readonly kind: 'newRuns' }
  | { readonly kind: 'replace'; readonly run: string }
  | { readonly kind: 'newSkid'; readonly name: string }

export type ImportedRuns =
  | {
      readonly ok: true
      readonly document: SkidDocument
      readonly runs: readonly Run[]
      /** What a person should know before saying yes, one sentence each. */
      readonly says: readonly string[]
    }
  | { readonly ok: false; readonly reason: string }

/**
 * The document with a table's runs taken in: as new runs, in place of one run's points, or as a new skid.
 *
 * @param like the run whose tube, CLR and bender new runs have; null for those of a fitting tooling.
 */
export function importRuns(
  document: SkidDocument,
  table: readonly TableRun[],
  target: Target,
  like: Run | null,
  placing: Omit<Placing, 'clr'>,
): ImportedRuns {
  const replaced = target.kind === 'replace' ? document.runs.find(r => r.id === target.run) : undefined
  if (target.kind === 'replace' && table.length !== 1)
    return {
      ok: false,
      reason: `The table holds ${table.length} runs: replacing the points of a run needs exactly one.`,
    }
  const base = target.kind === 'newSkid' ? newSkid(document, target.name) : document
  const pattern = replaced ?? like ?? addNewRun(base, '', '').run
  const placed = placeRuns(table, { ...placing, clr: makingOf(base, pattern).clr })
  if (!placed.ok) return placed
  if (replaced) {
    const next = replacePoints(document, replaced, placed.routes[0]!)
    const run = next.runs.find(r => r.id === replaced.id)!
    return { ok: true, document: next, runs: [run], says: changesOf(document, replaced, next, run) }
  }
  const says: string[] = []
  let next = base
  const runs = table.map((row, i) => {
    const wanted = row.tag.trim()
    const taken = next.runs.some(r => r.tag === wanted)
    const tag = wanted && !taken ? wanted : freshTag(next, wanted || (next.runs.at(-1)?.tag ?? ''))
    if (wanted && taken) says.push(`${wanted} is in this skid already: the new run becomes ${tag}.`)
    const id = freshId(
      'run',
      next.runs.map(r => r.id),
    )
    const run: Run = {
      ...pattern,
      id,
      tag,
      service: '',
      quantity: 1,
      insulation: 0,
      ...through(base, placed.routes[i]!),
    }
    next = addRun(next, run)
    for (const [end, name] of [
      [run.endA, 'A'],
      [run.endB, 'B'],
    ] as const)
      if (end.kind === 'port')
        says.push(`End ${name} of ${tag} is in port ${base.fittings.find(f => f.id === end.fitting)?.name}.`)
    return run
  })
  return { ok: true, document: next, runs, says }
}

/** A new skid with the benders at hand: without one most checks cannot be made. */
const newSkid = (document: SkidDocument, name: string): SkidDocument => ({
  ...emptyDocument(name),
  benders: document.benders.length > 0 ? document.benders : KNOWN_BENDERS.map(known => known.bender),
})

function endAt(document: SkidDocument, at: Vec3): RunEnd {
  const port = document.fittings.find(f => distance(f.position, at) <= IN_PORT_MM)
  return port ? { kind: 'port', fitting: port.id } : { kind: 'free', at }
}

/** Ends in the ports that stand exactly there, vertices between. */
const through = (
  document: SkidDocument,
  points: readonly Vec3[],
): Pick<Run, 'endA' | 'vertices' | 'endB'> => ({
  endA: endAt(document, points[0]!),
  vertices: points.slice(1, -1).map((at, i) => ({ id: `v${i + 1}`, at })),
  endB: endAt(document, points.at(-1)!),
})

/** Vertices keep their ids in order, so that findings and the bench know them again. */
function replacePoints(document: SkidDocument, run: Run, points: readonly Vec3[]): SkidDocument {
  const next = replaceVertices(document, run.id, points.slice(1, -1))
  return editRun(next, run.id, r => ({
    ...r,
    endA: endAt(document, points[0]!),
    endB: endAt(document, points.at(-1)!),
  }))
}
