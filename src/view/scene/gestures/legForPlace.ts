import { runOf } from '../../../document/lookUp.ts'
import type { SkidDocument } from '../../../document/types.ts'
import { cross, length, lerp, unit, type Vec3 } from '../../../geometry/vec3.ts'
import { solvedRunOf } from '../../../store/derived.ts'
import type { Part } from '../../../store/sessionStore.ts'
import { legThrough } from '../pick.ts'
import { along } from '../pointLimits.ts'

/** A leg that leaves its port within this is the stub that the port asks for: sine of about half a degree. */
const ON_AXIS = 0.01

interface Route {
  readonly run: { readonly id: string }
  readonly points: readonly Vec3[]
  readonly ids: readonly string[]
}

/**
 * The leg (0 starts at end A) that the next placed point goes on: the one after the selected point, the selected
 * straight's, else the last. Never a stub that comes straight out of a port, while there is another: a point there
 * would turn the tube out of its port's axis.
 */
export function legForPlace(document: SkidDocument, route: Route, selection: Part | null): number {
  const legs = route.points.length - 1
  const [low, high] = between(document, route)
  return Math.min(high, Math.max(low, wanted(document, route, selection, legs)))
}

function wanted(document: SkidDocument, route: Route, selection: Part | null, legs: number): number {
  if (selection?.kind === 'point' && selection.run === route.run.id) {
    const at = route.ids.indexOf(selection.point)
    if (at >= 0) return Math.min(at, legs - 1)
  }
  if (selection?.kind === 'straight' && selection.run === route.run.id) {
    const piece = solvedRunOf(document, route.run.id)?.route?.pieces.find(
      p => p.kind === 'line' && p.straight === selection.straight,
    )
    if (piece) return legThrough(route.points, lerp(piece.start, piece.end, 0.5))
  }
  return legs - 1
}

/** First and last leg that are no stubs; all of them when there is nothing else. */
function between(document: SkidDocument, { run: { id }, points }: Route): readonly [number, number] {
  const run = runOf(document, id)
  const legs = points.length - 1
  const isStub = (end: 'A' | 'B') => {
    const at = end === 'A' ? run?.endA : run?.endB
    const fitting = at?.kind === 'port' ? document.fittings.find(f => f.id === at.fitting) : undefined
    const axis = fitting && unit(fitting.axis)
    const [from, to] = end === 'A' ? [points[0]!, points[1]!] : [points[legs]!, points[legs - 1]!]
    const leg = along(from, to)
    return axis !== null && axis !== undefined && leg !== null && length(cross(axis, leg)) <= ON_AXIS
  }
  const low = isStub('A') ? 1 : 0
  const high = isStub('B') ? legs - 2 : legs - 1
  return low <= high ? [low, high] : [0, Math.max(0, legs - 2)]
}
