import { addScaled, cross, distance, dot, scale, sub, turnDirection, type Vec3 } from '../../geometry/vec3.ts'
import type { Piece, SolvedRoute } from '../../solve/types.ts'
import { BLACK, type Box, circle, GREY, type Ink, type PathItem, WHITE } from '../paper.ts'
import { type Frame, onPaper, type Stroke, strokesOf } from '../views.ts'
import { arcSteps } from './outlines.ts'

/** How a body is drawn: one party with a heavy outline, the other hatched, what is only near thin and pale; or plain. */
export type Look = 'first' | 'second' | 'near' | 'plain'

export const OUTLINE: Record<Look, { readonly ink: Ink; readonly width: number }> = {
  first: { ink: BLACK, width: 0.5 },
  second: { ink: BLACK, width: 0.22 },
  plain: { ink: BLACK, width: 0.15 },
  near: { ink: [0.62, 0.62, 0.62], width: 0.13 },
}
export const HATCH_APART = 1.6
export const HATCH_INK: Ink = [0.35, 0.35, 0.35]
/** A tube narrower than this on paper is one line, mm. */
const HAIR = 0.9

/** A stroke that knows when to be painted. `depth`: towards the eye, mm; the larger later. */
export interface Painted {
  readonly depth: number
  /** On the centre line, mm on the skid: what decides whether it is hidden behind a solid. */
  readonly at: Vec3
  /** Strokes of one tube that follow each other are painted layer by layer: no seam shows between them. */
  readonly group: string
  readonly layers: readonly PathItem[]
}

/** Far ones first. */
export function inOrder(painted: readonly Painted[]): PathItem[] {
  const items: PathItem[] = []
  const sorted = [...painted].sort((p, q) => p.depth - q.depth)
  for (let i = 0; i < sorted.length; ) {
    let end = i + 1
    while (sorted[end] && sorted[end]!.group === sorted[i]!.group) end++
    const together = sorted.slice(i, end)
    const layers = Math.max(...together.map(p => p.layers.length))
    for (let k = 0; k < layers; k++) for (const p of together) if (p.layers[k]) items.push(p.layers[k]!)
    i = end
  }
  return items
}

/** The pieces of a route that come within `radius` mm of `at`, lines cut to what does. */
export function piecesNear(pieces: readonly Piece[], at: Vec3, radius: number): Piece[] {
  return pieces.flatMap((piece): Piece[] => {
    if (piece.kind === 'arc') return distance(piece.centre, at) - piece.radius <= radius ? [piece] : []
    const long = piece.to - piece.from
    const along = dot(sub(at, piece.start), piece.direction)
    const off = distance(at, addScaled(piece.start, piece.direction, along))
    const half = Math.sqrt(Math.max(0, radius * radius - off * off))
    const from = Math.max(0, along - half)
    const to = Math.min(long, along + half)
    if (off > radius || to - from <= 1e-9) return []
    const [start, end] = [from, to].map(t => addScaled(piece.start, piece.direction, t)) as [Vec3, Vec3]
    return [{ ...piece, from: piece.from + from, to: piece.from + to, start, end }]
  })
}

/** Pieces of a tube as strokes in its true width, seen through the window. */
export function paintTube(
  group: string,
  pieces: readonly Piece[],
  od: number,
  frame: Frame,
  look: Look,
  clip: Box,
): Painted[] {
  const half = (od * frame.scale) / 2
  return strokesOf(pieces, frame)
    .filter(s => meets(s, half, clip))
    .map(s => ({
      depth: s.depth,
      at: middleOf(s, frame),
      group: `${group} ${look}`,
      layers: strokeItems(s, half, look, clip),
    }))
}

function strokeItems(s: Stroke, half: number, look: Look, clip: Box): PathItem[] {
  const { ink, width } = OUTLINE[look]
  const [from, end] = [s.through[0]!, s.through[s.through.length - 1]!]
  const path = (stroke: Ink, wide: number, dash?: readonly number[]): PathItem => ({
    kind: 'path',
    steps: s.steps,
    stroke,
    width: wide,
    clip,
    ...(dash ? { dash } : {}),
  })
  if (2 * half < HAIR) return [path(ink, look === 'near' ? width : 2 * half)]
  if (Math.hypot(end[0] - from[0], end[1] - from[1]) < 0.02 && s.piece.kind === 'line')
    return [circle(...from, half - width / 2, { stroke: ink, fill: WHITE, width, clip })]
  const inside = 2 * (half - width)
  const hatched = look === 'second' ? [path(HATCH_INK, inside, [0.13, HATCH_APART])] : []
  if (s.piece.kind === 'arc') return [path(ink, 2 * half), path(WHITE, inside), ...hatched]
  // The sides of a straight are lines of their own: a wide line in a wider one comes out uneven on a coarse screen.
  const run = Math.hypot(end[0] - from[0], end[1] - from[1])
  const off = (half - width / 2) / run
  const [nx, ny] = [-(end[1] - from[1]) * off, (end[0] - from[0]) * off]
  const sides: PathItem = {
    kind: 'path',
    steps: [
      ['M', from[0] + nx, from[1] + ny],
      ['L', end[0] + nx, end[1] + ny],
      ['M', from[0] - nx, from[1] - ny],
      ['L', end[0] - nx, end[1] - ny],
    ],
    stroke: ink,
    width,
    clip,
  }
  return [path(WHITE, inside + width), ...hatched, sides]
}

/** The cut ends of a tube as the ellipses that they are seen as. */
export function paintEnds(route: SolvedRoute, od: number, frame: Frame, look: Look, clip: Box): Painted[] {
  const [first, last] = [route.pieces[0]!, route.pieces[route.pieces.length - 1]!]
  const outward =
    last.kind === 'line' ? last.direction : turnDirection(last.direction, last.normal, last.angleRad)
  const { ink, width } = OUTLINE[look]
  const half = (od * frame.scale) / 2
  if (2 * half < HAIR) return []
  return (
    [
      [first.start, scale(first.direction, -1)],
      [last.end, outward],
    ] as const
  ).flatMap(([at, out]): Painted[] => {
    const [x, y] = onPaper(frame, at)
    if (x + half < clip.x || x - half > clip.x + clip.w || y + half < clip.y || y - half > clip.y + clip.h)
      return []
    const { eye } = frame.view
    const side = cross(out, eye)
    const long = Math.hypot(...side)
    // Seen exactly from the side an end is a line, which the stroke's own end draws.
    if (long < 1e-6 || Math.abs(dot(out, eye)) < 1e-6) return []
    const r = od / 2 - width / 2 / frame.scale
    const u = scale(side, r / long)
    const v = scale(cross(out, side), r / long)
    const steps = arcSteps(at, u, v, 0, 2 * Math.PI, frame)
    // An end that faces the eye lies on its tube, one that does not lies under it.
    const depth = dot(eye, at) + Math.sign(dot(out, eye)) * od
    return [
      {
        depth,
        at,
        group: `end ${x} ${y}`,
        layers: [{ kind: 'path', steps, stroke: ink, fill: WHITE, width, clip }],
      },
    ]
  })
}

/** Thin centre lines, on top of everything: where a tube is hidden, they show how it goes on. */
export const centreLines = (pieces: readonly Piece[], frame: Frame, clip: Box): PathItem[] =>
  strokesOf(pieces, frame).map(s => ({
    kind: 'path',
    steps: s.steps,
    stroke: GREY,
    width: 0.1,
    dash: [3, 0.8, 0.6, 0.8],
    part: 'centre-line',
    clip,
  }))

const meets = ({ through }: Stroke, half: number, { x, y, w, h }: Box): boolean => {
  const xs = through.map(p => p[0])
  const ys = through.map(p => p[1])
  return (
    Math.min(...xs) - half <= x + w &&
    Math.max(...xs) + half >= x &&
    Math.min(...ys) - half <= y + h &&
    Math.max(...ys) + half >= y
  )
}

/** The stroke's middle on the skid, out of where it is seen and how deep. */
function middleOf({ through, depth }: Stroke, { view, scale: size, x, y }: Frame): Vec3 {
  const [a, b] = [
    through[Math.floor((through.length - 1) / 2)]!,
    through[Math.ceil((through.length - 1) / 2)]!,
  ]
  const right = ((a[0] + b[0]) / 2 - x) / size
  const up = (y - (a[1] + b[1]) / 2) / size
  return addScaled(addScaled(scale(view.right, right), view.up, up), view.eye, depth)
}
