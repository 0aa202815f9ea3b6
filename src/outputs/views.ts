import { add, cross, DEG, dot, scale, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import { pointOn } from '../solve/centreLine.ts'
import type { ArcPiece, Piece } from '../solve/types.ts'
import type { Box, PathStep } from './paper.ts'

/** A parallel view: which skid directions run right and up on the paper, and which comes towards the eye. Unit. */
export interface View {
  readonly name: string
  readonly right: Vec3
  readonly up: Vec3
  readonly eye: Vec3
  /** Skid axis (0 x, 1 y, 2 z) along right and up; null in a view that is not square to them. */
  readonly axes: readonly [number, number] | null
}

const s2 = Math.SQRT1_2
const s6 = 1 / Math.sqrt(6)
const s3 = 1 / Math.sqrt(3)
/** From −y, +x and above: x runs right and up, y left and up, z up, all shortened alike. */
export const ISOMETRIC: View = {
  name: 'Isometric',
  right: [s2, s2, 0],
  up: [-s6, s6, 2 * s6],
  eye: [s3, -s3, s3],
  axes: null,
}
export const PLAN: View = {
  name: 'Plan, seen from +Z',
  right: [1, 0, 0],
  up: [0, 1, 0],
  eye: [0, 0, 1],
  axes: [0, 1],
}
export const FRONT: View = {
  name: 'Front, seen from -Y',
  right: [1, 0, 0],
  up: [0, 0, 1],
  eye: [0, -1, 0],
  axes: [0, 2],
}
export const SIDE: View = {
  name: 'Right side, seen from +X',
  right: [0, 1, 0],
  up: [0, 0, 1],
  eye: [1, 0, 0],
  axes: [1, 2],
}

/** Skid point to view plane, mm at full size: right, up. */
export const project = (view: View, p: Vec3): readonly [number, number] => [
  dot(p, view.right),
  dot(p, view.up),
]

/** The one or two square views that show the run largest; one when it is flat to them within `flat` mm. */
export function squareViews(points: readonly Vec3[], flat = 0.5): View[] {
  const extent = [0, 1, 2].map(k => {
    const values = points.map(p => p[k]!)
    return Math.max(...values) - Math.min(...values)
  })
  const area = (v: View) => (extent[v.axes![0]]! + 1) * (extent[v.axes![1]]! + 1)
  const [first, second] = [PLAN, FRONT, SIDE].sort((a, b) => area(b) - area(a))
  const missing = [0, 1, 2].find(k => !first!.axes!.includes(k))!
  return extent[missing]! <= flat ? [first!] : [first!, second!]
}

/** Where the view plane lands on the paper: paper = origin + scale · (right, −up). */
export interface Frame {
  readonly view: View
  readonly scale: number
  readonly x: number
  readonly y: number
}
export const onPaper = (frame: Frame, p: Vec3): readonly [number, number] => {
  const [r, u] = project(frame.view, p)
  return [frame.x + r * frame.scale, frame.y - u * frame.scale]
}

/** The frame at this scale with a point of the skid in the middle of a box. */
export function frameAbout(view: View, scale: number, at: Vec3, box: Box): Frame {
  const [x, y] = onPaper({ view, scale, x: 0, y: 0 }, at)
  return { view, scale, x: box.x + box.w / 2 - x, y: box.y + box.h / 2 - y }
}

/** Largest turn of one Bézier piece: keeps it within 1e-7 of the radius of its arc. */
const MOST_TURN = 22.5 * DEG

export interface Stroke {
  readonly steps: readonly PathStep[]
  /** The same a little longer where it meets another part of its own line: fills painted along it leave no seam. */
  readonly cover: readonly PathStep[]
  /** Towards the eye, mm: the larger is painted later. */
  readonly depth: number
  /** Points on it in order, the ends and at least one per 22.5° of a bend. */
  readonly through: readonly (readonly [number, number])[]
  readonly piece: Piece
  /** True for the first stroke of its piece. */
  readonly first: boolean
}

/**
 * The centre line as short strokes on the paper. An arc becomes Bézier pieces whose control points are projected: a
 * parallel view of a Bézier curve is the Bézier curve of the viewed points, so a bend is drawn as its true ellipse.
 */
export function strokesOf(pieces: readonly Piece[], frame: Frame): Stroke[] {
  return pieces.flatMap(piece =>
    piece.kind === 'line' ? lineStrokes(piece, frame) : arcStrokes(piece, frame),
  )
}

/** Lines are cut so that one that passes both over and under another is painted right. */
const LINE_PARTS = 6
/** Each part runs on under its neighbours by so much on paper, mm: no seam shows. */
const UNDERLAP = 0.06

function lineStrokes(piece: Piece, frame: Frame): Stroke[] {
  const length = piece.to - piece.from
  if (length <= 1e-9) return []
  return Array.from({ length: LINE_PARTS }, (_, i) => {
    const start = (length * i) / LINE_PARTS - (i > 0 ? UNDERLAP / frame.scale : 0)
    const a = pointOn(piece, Math.max(0, start)).point
    const stop = (length * (i + 1)) / LINE_PARTS + (i + 1 < LINE_PARTS ? UNDERLAP / frame.scale : 0)
    const b = pointOn(piece, Math.min(length, stop)).point
    const [from, to] = [onPaper(frame, a), onPaper(frame, b)]
    const longer = (at: number, by: number) => onPaper(frame, pointOn(piece, at + by / frame.scale).point)
    return {
      steps: [
        ['M', ...from],
        ['L', ...to],
      ],
      cover: [
        ['M', ...(i > 0 ? longer(start, -UNDERLAP) : from)],
        ['L', ...(i + 1 < LINE_PARTS ? longer(stop, UNDERLAP) : to)],
      ],
      depth: dot(frame.view.eye, scale(add(a, b), 0.5)),
      through: [from, to],
      piece,
      first: i === 0,
    }
  })
}

/** One stroke a bend: painted whole, its outline stays right where it turns back on itself, seen edge-on. */
function arcStrokes(piece: ArcPiece, frame: Frame): Stroke[] {
  const parts = Math.max(1, Math.ceil(piece.angleRad / MOST_TURN - 1e-9))
  const turn = piece.angleRad / parts
  const handle = (4 / 3) * Math.tan(turn / 4) * piece.radius
  const out = scale(cross(piece.normal, piece.direction), -piece.radius)
  const at = (i: number) => {
    const a = turn * i
    const p = i === parts ? piece.end : add(piece.centre, turnDirection(out, piece.normal, a))
    return { p, d: turnDirection(piece.direction, piece.normal, a) }
  }
  const steps: PathStep[] = [['M', ...onPaper(frame, piece.start)]]
  const through: (readonly [number, number])[] = [onPaper(frame, piece.start)]
  for (let i = 0; i < parts; i++) {
    const [a, b] = [at(i), at(i + 1)]
    const c1 = onPaper(frame, add(a.p, scale(a.d, handle)))
    const c2 = onPaper(frame, add(b.p, scale(b.d, -handle)))
    const to = onPaper(frame, b.p)
    steps.push(['C', ...c1, ...c2, ...to])
    through.push(to)
  }
  const middle = at(parts / 2).p
  return [{ steps, cover: steps, depth: dot(frame.view.eye, middle), through, piece, first: true }]
}
