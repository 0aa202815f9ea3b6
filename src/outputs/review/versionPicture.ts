import type { Move } from '../../checks/largestMove.ts'
import { addScaled, cross, DEG, distance, dot, negate, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { ArcPiece, Piece, SolvedRoute } from '../../solve/types.ts'
import { SCALES, scaleName } from '../drawView.ts'
import { BLACK, type Box, GREY, type PaperItem, rectangle, words } from '../paper.ts'
import { Places } from '../placeLabels.ts'
import { FRONT, type Frame, ISOMETRIC, onPaper, PLAN, project, SIDE, strokesOf, type View } from '../views.ts'
import { dashedTube } from './dashedTube.ts'
import { eyeAt, eyeWords, viewFrom, viewSquareTo } from './eye.ts'
import { drawGap } from './gapDimension.ts'
import { drawNear } from './gapPicture.ts'
import { type Scene, thingsNear } from './scene.ts'
import { inOrder, type Painted, paintEnds, paintTube, piecesNear } from './tubes.ts'

/** A run as one version has it. */
export interface Version {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
}
export interface VersionPicture {
  readonly items: readonly PaperItem[]
  /** "Isometric", or with a scale "seen from +X, 1:2". */
  readonly view: string
}

/** Share of a move that a view has to show. */
const SHOWS = 0.6

/** All of a run as large as it can be, now in whole lines and dashed as it was; null for a version without it. */
export function wholePicture(
  was: Version | null,
  is: Version | null,
  move: Move | null,
  box: Box,
): VersionPicture {
  const way = move && sub(move.to, move.from)
  const view = [ISOMETRIC, FRONT, SIDE, PLAN].find(v => !way || shown(v, way) >= SHOWS) ?? ISOMETRIC
  const flat = [was, is].flatMap(v => v?.route.points.map(p => project(view, p)) ?? [])
  const od = Math.max(was?.od ?? 0, is?.od ?? 0)
  const side = (k: 0 | 1) => {
    const values = flat.map(p => p[k])
    const [low, high] = [Math.min(...values), Math.max(...values)]
    return { middle: (low + high) / 2, long: high - low + od }
  }
  const [across, upright] = [side(0), side(1)]
  // Room for the letters at the ends.
  const size = Math.min((box.w - 9) / across.long, (box.h - 9) / upright.long, 1)
  const frame: Frame = {
    view,
    scale: size,
    x: box.x + box.w / 2 - across.middle * size,
    y: box.y + box.h / 2 + upright.middle * size,
  }
  const letters = is ?? was
  return {
    items: [
      ...(is ? inOrder(painted(is, is.route.pieces, frame, box)) : []),
      ...(was ? dashedTube(was.route.pieces, was.od, frame, box) : []),
      ...(letters ? endLetters(letters, frame) : []),
      rectangle(box, { stroke: GREY, width: 0.18 }),
    ],
    view: view.name,
  }
}

/** Where to look closer: at the largest move, else at the first bend that is another. */
interface Spot {
  readonly at: Vec3
  readonly view: View
  /** What must be seen about `at`, mm. */
  readonly span: number
}

/**
 * Where a run changed most, both versions with what is near now: the largest move with its figure, else the first bend
 * that is another; null when its shape has not changed.
 */
export function placePicture(
  scene: Scene,
  run: string,
  was: Version,
  is: Version,
  move: { readonly move: Move; readonly figure: string } | null,
  box: Box,
): VersionPicture | null {
  const spot = move ? spotOfMove(was, is, move.move) : spotOfBend(was, is)
  if (!spot) return null
  const { at, view } = spot
  const size = largestScale(Math.min(box.w, box.h) / spot.span)
  const centre = onPaper({ view, scale: size, x: 0, y: 0 }, at)
  const frame: Frame = {
    view,
    scale: size,
    x: box.x + box.w / 2 - centre[0],
    y: box.y + box.h / 2 - centre[1],
  }
  // Twice the window's: in a slanting view what is seen in a corner may lie well before or behind the middle.
  const radius = Math.hypot(box.w, box.h) / size
  const near = thingsNear(scene, at, radius)
    .filter(t => t.id !== run)
    .map(t => drawNear(t, at, radius, frame, box))
  const items: PaperItem[] = [
    ...near.flatMap(n => n.lines),
    ...inOrder(near.flatMap(n => n.tubes)),
    ...inOrder(painted(is, piecesNear(is.route.pieces, at, radius), frame, box)),
    ...dashedTube(was.route.pieces, was.od, frame, box),
  ]
  if (move) {
    const places = new Places({ x: box.x + 0.8, y: box.y + 0.8, w: box.w - 1.6, h: box.h - 1.6 })
    const ends = [move.move.from, move.move.to].map(p => onPaper(frame, p)) as [
      readonly [number, number],
      readonly [number, number],
    ]
    for (const { route, od } of [was, is])
      for (const s of strokesOf(piecesNear(route.pieces, at, radius), frame))
        for (const [i, to] of s.through.slice(1).entries())
          places.lines.push({ from: s.through[i]!, to, half: (od * size) / 2 })
    drawGap(...ends, move.figure, items, places)
  }
  items.push(rectangle(box, { stroke: GREY, width: 0.18 }))
  return { items, view: `${view.name}, ${scaleName(size)}` }
}

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
  return views.find(v => shown(v, way) >= SHOWS) ?? ISOMETRIC
}

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

const largestScale = (most: number): number => SCALES.find(s => s <= most) ?? most

const painted = (
  { route, od }: Version,
  pieces: readonly Piece[],
  frame: Frame,
  box: Box,
): readonly Painted[] => [
  ...paintTube('now', pieces, od, frame, 'first', box),
  ...paintEnds(route, od, frame, 'first', box),
]

/** "A" and "B" a little beyond the ends. */
function endLetters({ route, od }: Version, frame: Frame): PaperItem[] {
  const { points } = route
  return (
    [
      ['A', points[0], points[1]],
      ['B', points[points.length - 1], points[points.length - 2]],
    ] as const
  ).flatMap(([letter, end, next]) => {
    if (!end || !next) return []
    const [p, q] = [onPaper(frame, end), onPaper(frame, next)]
    const long = Math.hypot(p[0] - q[0], p[1] - q[1])
    const off = 2.4 + (od * frame.scale) / 2
    const [dx, dy] = long > 1e-6 ? [(p[0] - q[0]) / long, (p[1] - q[1]) / long] : [0, -1]
    return [words(p[0] + dx * off, p[1] + dy * off + 0.9, letter, 2.5, { anchor: 'middle', ink: BLACK })]
  })
}
