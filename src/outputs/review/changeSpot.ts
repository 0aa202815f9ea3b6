import type { Move } from '../../checks/largestMove.ts'
import { addScaled, cross, DEG, distance, dot, negate, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { ArcPiece, Piece, SolvedRoute } from '../../solve/types.ts'
import { ISOMETRIC, type View } from '../views.ts'
import { eyeAt, eyeWords, viewFrom, viewSquareTo } from './eye.ts'

/** A run as one version has it. */
export interface Version {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
}
/** Where to look closer: at the largest move, else at the first bend that is another. */
export interface Spot {
  readonly at: Vec3
  readonly view: View
  /** What must be seen about `at`, mm. */
  readonly span: number
}

/** Share of a move that a view has to show. */
const SHOWS = 0.6

/** The largest move, else the first bend that is another in either version; null when there is nothing to see. */
export const spotOf = (was: Version, is: Version, move: Move | null): Spot | null =>
  move ? spotOfMove(was, is, move) : (spotOfBend(was, is) ?? spotOfBend(is, was))

/** About the moved point in both versions and its bend. */
function spotOfMove(was: Version, is: Version, { from, to, by }: Move): Spot {
  const legs: Vec3[] = []
  const focus: Vec3[] = [from, to]
  for (const [{ route }, place] of [
    [was, from],
    [is, to],
  ] as const) {
    const at = route.points.findIndex(p => distance(p, place) < 1e-6)
    for (const i of [at - 1, at]) {
      const [p, q] = [route.points[i], route.points[i + 1]]
      const way = p && q ? unit(sub(q, p)) : null
      if (way) legs.push(way)
    }
    const arc = arcAt(route, at)
    if (arc) focus.push(arc.start, arc.end)
  }
  const way = sub(to, from)
  const square = viewSquareTo(unit(way), legs)
  const view = legs.every(leg => Math.abs(dot(leg, square.eye)) < 0.3) ? square : slanting(way)
  const od = Math.max(was.od, is.od)
  const { at, reach } = middleOf(focus)
  return { at, view, span: Math.max(2.2 * by, 2 * reach + 3 * od) }
}

/** Round from +X, degrees; the first is that of an isometric. */
const CORNERS = [315, 45, 225, 135]

/** Of the views down on a corner the first that shows enough of a move: legs along all axes are all seen in it. */
function slanting(way: Vec3): View {
  const height = Math.asin(1 / Math.sqrt(3)) / DEG
  const views = CORNERS.map((yaw, i) => (i === 0 ? ISOMETRIC : viewFrom(eyeAt(yaw, height), 'From a corner')))
  return views.find(v => shows(v, way)) ?? ISOMETRIC
}

/** True when a view shows enough of a move. */
export const shows = (view: View, way: Vec3): boolean => shown(view, way) >= SHOWS

/** Share of a way that a view shows, 0 … 1. */
function shown({ right, up }: View, way: Vec3): number {
  return Math.hypot(dot(right, way), dot(up, way)) / Math.hypot(...way)
}

/** The middle of points, and how far the furthest lies from it, mm. */
function middleOf(points: readonly Vec3[]): { at: Vec3; reach: number } {
  const side = (k: 0 | 1 | 2) => points.map(p => p[k])
  const half = (k: 0 | 1 | 2) => (Math.min(...side(k)) + Math.max(...side(k))) / 2
  const at: Vec3 = [half(0), half(1), half(2)]
  return { at, reach: Math.max(...points.map(p => distance(p, at))) }
}

/** The bend whose vertex is the route's point `at`; none at an end or where it passes straight through. */
function arcAt(route: SolvedRoute, at: number): ArcPiece | undefined {
  return route.pieces.find((p): p is ArcPiece => p.kind === 'arc' && route.bends[p.bend]?.vertex === at)
}

/** About the first bend that is another, or of another tube on the same route; null when nothing can be seen. */
function spotOfBend(was: Version, is: Version): Spot | null {
  const old = new Map(was.route.bends.map(b => [b.vertexId, b]))
  const bend = is.route.bends.find(b => {
    const before = old.get(b.vertexId)
    return !before || Math.abs(before.angle - b.angle) > 1e-6 || Math.abs(before.clr - b.clr) > 1e-6
  })
  const arc = bend && arcAt(is.route, bend.vertex)
  if (!arc) return was.od === is.od ? null : spotOfMiddle(is)
  const eye = dot(arc.normal, ISOMETRIC.eye) < 0 ? negate(arc.normal) : arc.normal
  const before = old.get(bend.vertexId)
  const arcWas = before && arcAt(was.route, before.vertex)
  const focus = [arc.start, arc.end, is.route.points[bend.vertex]!]
  const { at, reach } = middleOf(arcWas ? [...focus, arcWas.start, arcWas.end] : focus)
  return { at, view: viewFrom(eye, eyeWords(eye)), span: 2 * reach + 2 * Math.max(was.od, is.od) }
}

/** Another tube on the same route: the middle of its longest straight. */
function spotOfMiddle(is: Version): Spot {
  const long = (p: Piece) => (p.kind === 'line' ? p.to - p.from : 0)
  const piece = is.route.pieces.reduce((a, b) => (long(b) > long(a) ? b : a))
  const side = unit(cross(piece.direction, [0, 0, 1])) ?? [1, 0, 0]
  const eye = dot(side, ISOMETRIC.eye) < 0 ? negate(side) : side
  return {
    at: addScaled(piece.start, piece.direction, long(piece) / 2),
    view: viewFrom(eye, eyeWords(eye)),
    span: 6 * is.od,
  }
}
