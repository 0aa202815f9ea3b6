import { addScaled, cross, distance, dot, lerp, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { ClearancePair, Place } from '../../skid/clearance.ts'
import { shapeOfSolid } from '../../skid/solidShape.ts'
import type { Piece } from '../../solve/types.ts'
import { largestScale, scaleName } from '../drawView.ts'
import { BLACK, type Box, GREY, PALE, type PaperItem, type PathItem, rectangle } from '../paper.ts'
import { Places } from '../placeLabels.ts'
import { type Frame, frameAbout, onPaper } from '../views.ts'
import { viewSquareTo } from './eye.ts'
import { drawGap } from './gapDimension.ts'
import { hatch } from './hatch.ts'
import { labelThing } from './labelThing.ts'
import { covers, meshLines, type SeenTriangle } from './meshLines.ts'
import { type At, outlineOf } from './outlines.ts'
import { type Scene, type Thing, thingsNear } from './scene.ts'
import {
  centreLines,
  HATCH_APART,
  HATCH_INK,
  inOrder,
  type Look,
  OUTLINE,
  type Painted,
  paintEnds,
  paintTube,
  piecesNear,
} from './tubes.ts'

export interface GapPicture {
  readonly items: readonly PaperItem[]
  /** Drawing length over true length. */
  readonly scale: number
  /** "seen from +X, 1:1". */
  readonly view: string
  /** Plain sentences on what the picture leaves out. */
  readonly notes: readonly string[]
}

/** No picture names more neighbours than this. */
const NAMED_NEIGHBOURS = 5

/**
 * The gap of a pair drawn square to it and in the middle of the box, at a preferred scale: the first party plain, the
 * second hatched, nearby parts thin and pale, the nearest points and the gap's figure. Null when a party has no
 * outside to draw.
 */
export function gapPicture(scene: Scene, pair: ClearancePair, box: Box, figure: string): GapPicture | null {
  const first = scene.byId.get(pair.aId)
  const second = scene.byId.get(pair.bId)
  if (first?.kind !== 'tube' || !second) return null
  const apart = distance(pair.pointA, pair.pointB)
  const middle = lerp(pair.pointA, pair.pointB, 0.5)
  const tangents = [tangentAt(first, pair.placeA, pair.pointA), tangentAt(second, pair.placeB, pair.pointB)]
  const view = viewSquareTo(
    apart > 1e-6 ? unit(sub(pair.pointB, pair.pointA)) : null,
    tangents.filter(t => t !== null),
  )
  const thick = first.run.tube.od + (second.kind === 'tube' ? second.run.tube.od : first.run.tube.od)
  const wanted = Math.max(2.2 * apart, 1.9 * thick + apart)
  const size = largestScale(Math.min(box.h, box.w) / wanted)
  const frame = frameAbout(view, size, middle, box)
  const radius = Math.hypot(box.w, box.h) / 2 / size

  const items: PaperItem[] = []
  const notes: string[] = []
  const near = thingsNear(scene, middle, radius).filter(t => t !== first && t !== second)
  const named: { thing: Thing; points: readonly At[] }[] = []
  const tubes: Painted[] = []
  for (const thing of near) {
    const drawn = drawNear(thing, middle, radius, frame, box)
    items.push(...drawn.lines)
    tubes.push(...drawn.tubes)
    if (drawn.points.length > 0) named.push({ thing, points: drawn.points })
  }
  items.push(...inOrder(tubes))
  const parties = drawParties(first, second, pair, { middle, radius, frame, box, notes })
  items.push(...parties.items)

  const places = new Places({ x: box.x + 0.8, y: box.y + 0.8, w: box.w - 1.6, h: box.h - 1.6 })
  const [a, b] = [onPaper(frame, pair.pointA), onPaper(frame, pair.pointB)]
  drawGap(a, b, figure, items, places)
  labelThing(first.name, parties.first, items, places, true)
  if (second !== first) labelThing(second.name, parties.second, items, places, true)
  let told = 0
  for (const { thing, points } of named) {
    const seen = points.filter(p => !within(parties.area, p))
    if (told < NAMED_NEIGHBOURS && labelThing(thing.name, seen, items, places, false)) told++
  }
  items.push(rectangle(box, { stroke: GREY, width: 0.18 }))
  return { items, scale: size, view: `${view.name}, ${scaleName(size)}`, notes }
}

/** The tube's direction at a point of its outside; null where there is no tube. */
function tangentAt(thing: Thing, place: Place | null, at: Vec3): Vec3 | null {
  if (thing.kind !== 'tube' || !place) return null
  const piece = pieceAt(thing.route.pieces, place)
  if (!piece) return null
  return piece.kind === 'line' ? piece.direction : unit(cross(piece.normal, sub(at, piece.centre)))
}

const pieceAt = (pieces: readonly Piece[], { kind, index }: Place): Piece | undefined =>
  pieces.find(p =>
    p.kind === 'line' ? kind === 'straight' && p.straight === index : kind === 'bend' && p.bend === index,
  )

interface Window {
  readonly middle: Vec3
  readonly radius: number
  readonly frame: Frame
  readonly box: Box
}

/** What is near a place: tubes as strokes to be painted in order, other outlines as lines, and points on them. */
export function drawNear(
  thing: Thing,
  middle: Vec3,
  radius: number,
  frame: Frame,
  clip: Box,
): { tubes: Painted[]; lines: PathItem[]; points: At[] } {
  const { ink, width } = OUTLINE.near
  if (thing.kind === 'tube') {
    const { od } = thing.run.tube
    const tubes = [
      ...paintTube(thing.id, piecesNear(thing.route.pieces, middle, radius), od, frame, 'near', clip),
      ...paintEnds(thing.route, od, frame, 'near', clip),
    ]
    return { tubes, lines: [], points: tubes.map(p => onPaper(frame, p.at)) }
  }
  const path = (steps: PathItem['steps']): PathItem => ({ kind: 'path', steps, stroke: ink, width, clip })
  if (thing.kind === 'solid') {
    const seen = outlineOf(thing.solid, frame, middle, 2 * radius)
    return { tubes: [], lines: seen?.paths.map(path) ?? [], points: seen ? edgePoints(seen.area) : [] }
  }
  const lines = meshLines(thing, middle, radius, frame).triangles.flatMap(t => t.lines)
  return { tubes: [], lines: lines.map(l => path(lineSteps(l))), points: lines.slice(0, 20).map(([p]) => p) }
}

const lineSteps = ([p, q]: readonly [At, At]): PathItem['steps'] => [
  ['M', ...p],
  ['L', ...q],
]

/** Places along the border of an area that a label may point at. */
const edgePoints = (area: readonly At[]): At[] =>
  area.flatMap((p, i) => {
    const q = area[(i + 1) % area.length]!
    return [0, 0.25, 0.5, 0.75].map((t): At => [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t])
  })

function drawParties(
  first: Thing & { kind: 'tube' },
  second: Thing,
  pair: ClearancePair,
  window: Window & { notes: string[] },
): { items: PathItem[]; first: At[]; second: At[]; area: readonly At[] } {
  const { middle, radius, frame, box, notes } = window
  const tube = (thing: Thing & { kind: 'tube' }, look: Look, pieces = thing.route.pieces): Painted[] =>
    paintTube(thing.id, piecesNear(pieces, middle, radius), thing.run.tube.od, frame, look, box)
  const ends = (thing: Thing & { kind: 'tube' }, look: Look) =>
    paintEnds(thing.route, thing.run.tube.od, frame, look, box)
  const points = (painted: readonly Painted[]) => painted.map(p => onPaper(frame, p.at))

  if (second.kind === 'tube') {
    const other = second === first && pair.placeB ? pieceAt(first.route.pieces, pair.placeB) : undefined
    const a = tube(
      first,
      'first',
      first.route.pieces.filter(p => p !== other),
    )
    const b = second === first ? tube(first, 'second', other ? [other] : []) : tube(second, 'second')
    const all = [...a, ...b, ...ends(first, 'first'), ...(second === first ? [] : ends(second, 'second'))]
    const lines = [first, ...(second === first ? [] : [second])].flatMap(t =>
      centreLines(piecesNear(t.route.pieces, middle, radius), frame, box),
    )
    return { items: [...inOrder(all), ...lines], first: points(a), second: points(b), area: [] }
  }

  const a = [...tube(first, 'first'), ...ends(first, 'first')]
  const { ink, width } = OUTLINE.second
  const path = (steps: PathItem['steps'], more: Partial<PathItem> = {}): PathItem => ({
    kind: 'path',
    steps,
    stroke: ink,
    width,
    clip: box,
    ...more,
  })
  let body: PathItem[] = []
  let hidden: (p: Painted) => boolean = () => false
  let edge: At[] = []
  let covered: readonly At[] = []
  if (second.kind === 'solid') {
    const seen = outlineOf(second.solid, frame, middle, 2 * radius)
    if (seen) {
      const area: PathItem['steps'] = [
        ...seen.area.map((p, i) => [i === 0 ? 'M' : 'L', ...p] as ['M' | 'L', number, number]),
        ['Z'],
      ]
      body = [
        { kind: 'path', steps: area, fill: [1, 1, 1], clip: box },
        path(hatch(seen.area, 2 * HATCH_APART, box), { stroke: HATCH_INK, width: 0.1 }),
        ...seen.paths.map(p => path(p)),
      ]
      edge = edgePoints(seen.area)
      covered = seen.area
      hidden = p => behind(second, p.at, frame.view.eye)
    }
  } else {
    const { triangles, left } = meshLines(second, middle, radius, frame)
    if (left > 0) notes.push(`${second.name}: the ${left} triangles furthest from the gap are not drawn.`)
    body = meshItems(triangles, box, path)
    edge = triangles.slice(0, 30).flatMap(t => t.corners)
    hidden = p => {
      const [at, depth] = [onPaper(frame, p.at), dot(frame.view.eye, p.at)]
      return triangles.some(t => covers(t, at, depth))
    }
  }
  const lines = centreLines(piecesNear(first.route.pieces, middle, radius), frame, box)
  return {
    items: [...inOrder(a.filter(hidden)), ...body, ...inOrder(a.filter(p => !hidden(p))), ...lines],
    first: points(a),
    second: edge,
    area: covered,
  }
}

/** True inside a convex area given in order round it, either way. */
function within(area: readonly At[], p: At): boolean {
  const sides = area.map((a, i) => {
    const b = area[(i + 1) % area.length]!
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
  })
  return area.length > 2 && (sides.every(s => s > 0) || sides.every(s => s < 0))
}

/** Faces pale, far ones first, then the lines that are worth drawing, dashed: a mesh is not hatched. */
function meshItems(
  triangles: readonly SeenTriangle[],
  clip: Box,
  path: (steps: PathItem['steps'], more?: Partial<PathItem>) => PathItem,
): PathItem[] {
  const far = ({ depths }: SeenTriangle) => depths[0] + depths[1] + depths[2]
  const faces = [...triangles]
    .sort((s, t) => far(s) - far(t))
    .flatMap(({ corners: [p, q, r], lines }): PathItem[] => [
      { kind: 'path', steps: [['M', ...p], ['L', ...q], ['L', ...r], ['Z']], fill: PALE, clip },
      ...(lines.length > 0
        ? [
            path(
              lines.flatMap(l => [...lineSteps(l)]),
              { stroke: BLACK },
            ),
          ]
        : []),
    ])
  return faces
}

/** True when a solid lies between the eye and the point: the signed distance along a ray is convex, so halving finds it. */
function behind(thing: Thing & { kind: 'solid' }, at: Vec3, eye: Vec3): boolean {
  const shape = shapeOfSolid(thing.solid)
  const end = shape.support ? dot(eye, sub(shape.support(eye), at)) : 1e5
  if (end <= 0) return false
  const off = (t: number) => shape.signedDistance(addScaled(at, eye, t)).value
  let [from, to] = [0, end]
  for (let k = 0; k < 50; k++) {
    const [p, q] = [from + (to - from) / 3, to - (to - from) / 3]
    if (off(p) <= off(q)) to = q
    else from = p
  }
  return off((from + to) / 2) < -1e-6
}
