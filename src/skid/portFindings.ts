import { say, told } from '../document/sentence.ts'
import type { Fitting, RunEnd, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { leastOnSegment } from '../geometry/convexOnSegment.ts'
import { isInside } from '../geometry/insideMesh.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import { fromBody } from './carries.ts'
import { type MeshBody, type MeshPart, meshPart, type SolidPart, solidPart } from './parts.ts'
import { alongAxis, standsWithin } from './stubs.ts'

/** Places along a stub at which a model's part is looked at. */
const PLACES = 40

/**
 * Ports that are buried: their face lies in a body by more than `standsWithin`, or the straight for the nut leaves through
 * the body that the port stands on. Of every solid and part of a model that is not kept clear for something else; a
 * model's part must be closed to have an inside.
 */
export function portFindings(document: SkidDocument, meshes: readonly MeshBody[]): Finding[] {
  const bodies: { readonly name: string; readonly part: SolidPart | MeshPart }[] = []
  const take = (name: string, part: ReturnType<typeof solidPart>) => {
    if ('key' in part && part.kind !== 'run') bodies.push({ name, part })
  }
  for (const solid of document.solids)
    if (solid.kind !== 'keepOut') take(solid.name, solidPart(solid, undefined))
  for (const mesh of meshes) if (mesh.kind !== 'keepOut') take(mesh.name, meshPart(mesh, undefined))
  return document.fittings.flatMap(fitting =>
    bodies.flatMap(({ name, part }) => {
      const within = standsWithin(odAt(document, fitting))
      const depth = buried(fitting, part, within)
      return depth > within ? [finding(document, fitting, part.id, name, depth)] : []
    }),
  )
}

/** How deep the middle of a port's face lies in a body, or the axis of its nut in the body that it stands on, mm; 0 outside. */
function buried(fitting: Fitting, part: SolidPart | MeshPart, within: number): number {
  const { position, straightNeeded } = fitting
  const face = depthAt(part, position)
  const stands = part.fitting === fitting.id || Math.abs(fromBody(part, position, 2 * within)) <= within
  if (!stands || straightNeeded <= 0) return face
  const end = alongAxis(fitting, straightNeeded)
  if (part.kind === 'solid') return Math.max(face, -leastOnSegment(part.shape, position, end, 1e-9).value)
  let deepest = face
  for (let k = 1; k <= PLACES; k++)
    deepest = Math.max(deepest, depthAt(part, alongAxis(fitting, (straightNeeded * k) / PLACES)))
  return deepest
}

/** OD of the thickest tube that ends in a port, else what it takes, else a small one, mm. */
function odAt({ runs }: SkidDocument, { id, tubeOd }: Fitting): number {
  const ends = runs.filter(r => [r.endA, r.endB].some(e => e.kind === 'port' && e.fitting === id))
  return Math.max(...ends.map(r => r.tube.od), tubeOd ?? (ends.length > 0 ? 0 : 12))
}

function depthAt(part: SolidPart | MeshPart, p: Vec3): number {
  if (part.kind === 'solid') return Math.max(0, -part.shape.signedDistance(p).value)
  if (p.some((x, k) => x < part.low[k]! || x > part.high[k]!)) return 0
  return isInside(part.tree, part.placed.frame.toModel(p)) === true ? fromBody(part, p) : 0
}

function finding(document: SkidDocument, port: Fitting, body: string, name: string, depth: number): Finding {
  const endsIn = (end: RunEnd) => end.kind === 'port' && end.fitting === port.id
  const run = document.runs.find(r => endsIn(r.endA) || endsIn(r.endB))
  return {
    id: `portInBody:${port.id}:${body}`,
    rule: 'portInBody',
    severity: 'error',
    where: run
      ? { run: run.id, kind: endsIn(run.endA) ? 'endA' : 'endB', index: null, other: body }
      : { run: null, kind: 'pair', index: null, other: body },
    measured: depth,
    limit: 0,
    unit: 'mm',
    ...told(
      say`${port.name} is buried: it lies ${{ mm: depth, beside: [depth], fixed: true }} inside ${name}, or its nut does.`,
    ),
  }
}
