import type { Move } from '../../checks/largestMove.ts'
import { sub } from '../../geometry/vec3.ts'
import type { Piece } from '../../solve/types.ts'
import { largestScale, scaleName } from '../drawView.ts'
import { BLACK, type Box, GREY, type PaperItem, rectangle, words } from '../paper.ts'
import { Places } from '../placeLabels.ts'
import {
  FRONT,
  type Frame,
  frameAbout,
  ISOMETRIC,
  onPaper,
  PLAN,
  project,
  SIDE,
  strokesOf,
} from '../views.ts'
import { shows, spotOf, type Version } from './changeSpot.ts'
import { dashedTube } from './dashedTube.ts'
import { drawGap } from './gapDimension.ts'
import { drawNear } from './gapPicture.ts'
import { type Scene, thingsNear } from './scene.ts'
import { inOrder, type Painted, paintEnds, paintTube, piecesNear } from './tubes.ts'

export interface VersionPicture {
  readonly items: readonly PaperItem[]
  /** "Isometric", or with a scale "seen from +X, 1:2". */
  readonly view: string
}

/** All of a run as large as it can be, now in whole lines and dashed as it was; null for a version without it. */
export function wholePicture(
  was: Version | null,
  is: Version | null,
  move: Move | null,
  box: Box,
): VersionPicture {
  const way = move && sub(move.to, move.from)
  const view = [ISOMETRIC, FRONT, SIDE, PLAN].find(v => !way || shows(v, way)) ?? ISOMETRIC
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
  const spot = spotOf(was, is, move?.move ?? null)
  if (!spot) return null
  const { at, view } = spot
  const size = largestScale(Math.min(box.w, box.h) / spot.span)
  const frame = frameAbout(view, size, at, box)
  const reach = Math.hypot(box.w, box.h) / 2 / size
  // Twice the window's: in a slanting view what is seen in a corner may lie well before or behind the middle.
  const radius = 2 * reach
  const near = thingsNear(scene, at, reach)
    .filter(t => t.id !== run)
    .map(t => drawNear(t, at, reach, frame, box))
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
