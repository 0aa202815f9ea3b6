import { endPoint, fittingOf, runOf } from '../../../document/lookUp.ts'
import type { SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import { addScaled, dot, length, sub, unit } from '../../../geometry/vec3.ts'
import { best, groupsFrom, judge, shiftGroup, type Tried } from './shiftPoints.ts'

/** Moves the point next to a port (with others behind it where that keeps the bends) square onto the port's axis. */
export function ontoPortAxis(document: SkidDocument, finding: Finding): Tried | null {
  const run = runOf(document, finding.where.run ?? '')
  if (!run) return null
  const atA = finding.where.kind === 'endA'
  const fitting = fittingOf(document, atA ? run.endA : run.endB)
  const axis = fitting && unit(fitting.axis)
  if (!fitting || !axis) return null
  const end = run.vertices.length + 1
  const next = atA ? 1 : end - 1
  const vertex = run.vertices[next - 1]
  const at = vertex?.at ?? endPoint(document, atA ? run.endB : run.endA)
  if (!at) return null
  const along = dot(sub(at, fitting.position), axis)
  if (along <= 0) return null
  const offset = sub(addScaled(fitting.position, axis, along), at)
  const by = length(offset)
  const direction = unit(offset)
  if (!direction) return null
  return best(
    groupsFrom(run, next, atA ? 'B' : 'A').map(g =>
      judge(document, shiftGroup(document, run, g, direction, by), finding, g.last - g.first),
    ),
  )
}
