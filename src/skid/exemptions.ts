import { fittingsById } from '../document/lookUp.ts'
import type { SkidDocument } from '../document/types.ts'
import { piecesBetween } from '../solve/piecesBetween.ts'
import type { Piece, SolvedRun } from '../solve/types.ts'
import { carries } from './carries.ts'
import { type MeshBody, meshPart, solidPart, tubePart } from './parts.ts'

/** A stretch of tube at a port that is not measured against the bodies that the port stands on. */
export interface Exemption {
  readonly run: string
  readonly tag: string
  readonly end: 'A' | 'B'
  readonly fitting: string
  /** mm from the port's face. */
  readonly length: number
  readonly bodies: readonly { readonly id: string; readonly name: string }[]
  /** Of the centre line. */
  readonly pieces: readonly Piece[]
  /** Of the tube, mm. */
  readonly od: number
}

/** Every exemption of the runs that `wanted` picks, in the document's order. */
export function exemptionsOf(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  meshes: readonly MeshBody[],
  wanted: (runId: string) => boolean,
): Exemption[] {
  const fittings = fittingsById(document.fittings)
  const bodies = () => [
    ...document.solids.map(s => ({ name: s.name, part: solidPart(s, undefined) })),
    ...meshes.map(m => ({ name: m.name, part: meshPart(m, undefined) })),
  ]
  let known: ReturnType<typeof bodies> | null = null
  return document.runs.flatMap((run, i) => {
    const route = solved[i]?.route
    if (!route || !wanted(run.id)) return []
    const tube = tubePart(run, solved[i], fittings, undefined)
    if (!('key' in tube) || tube.kind !== 'run') return []
    return tube.stubs.flatMap(stub => {
      known ??= bodies()
      const own = known.flatMap(({ name, part }) =>
        'key' in part && part.kind !== 'run' && carries(part, stub) ? [{ id: part.id, name }] : [],
      )
      if (own.length === 0 || stub.length <= 0) return []
      const whole = route.developedLength
      const [from, to] = stub.end === 'A' ? [0, stub.length] : [whole - stub.length, whole]
      const { end, fitting, length } = stub
      const pieces = piecesBetween(route.pieces, from, to)
      return [{ run: run.id, tag: run.tag, end, fitting, length, bodies: own, pieces, od: run.tube.od }]
    })
  })
}
