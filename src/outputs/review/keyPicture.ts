import type { Vec3 } from '../../geometry/vec3.ts'
import { circle, GREY, type Ink, line, type PaperItem, type PathItem, type PathStep, RED } from '../paper.ts'
import { type Frame, ISOMETRIC, onPaper, project } from '../views.ts'
import { outlineOf } from './outlines.ts'
import type { Scene } from './scene.ts'

/** Solids past this many are left out of the small picture: it would be black. */
const MOST_SOLIDS = 300
const PALER: Ink = [0.75, 0.75, 0.75]

export interface KeyPicture {
  /** The small isometric of all runs with a mark at `at`, its corner at x, y. */
  readonly draw: (x: number, y: number, at: Vec3) => PaperItem[]
}

/**
 * A small isometric of the whole skid for `w` × `h` mm of paper: routes as lines, solids paler. It stands once in the
 * file, however many pictures show it.
 */
export function keyPicture(scene: Scene, w: number, h: number): KeyPicture | null {
  const corners = scene.things
    .filter(t => t.low.every(Number.isFinite) && t.high.every(Number.isFinite))
    .flatMap(({ low, high }) =>
      Array.from({ length: 8 }, (_, n) =>
        project(ISOMETRIC, [0, 1, 2].map(k => ((n >> k) & 1 ? high : low)[k]!) as unknown as Vec3),
      ),
    )
  if (corners.length === 0) return null
  const [l, r] = [min(corners, 0), max(corners, 0)]
  const [b, t] = [min(corners, 1), max(corners, 1)]
  const scale = Math.min((w - 4) / Math.max(r - l, 1), (h - 4) / Math.max(t - b, 1))
  const frame: Frame = {
    view: ISOMETRIC,
    scale,
    x: w / 2 - ((l + r) / 2) * scale,
    y: h / 2 + ((b + t) / 2) * scale,
  }
  const solids: PathStep[] = []
  let drawn = 0
  for (const thing of scene.things)
    if (thing.kind === 'solid' && thing.solid.shape !== 'plane' && drawn++ < MOST_SOLIDS)
      for (const path of outlineOf(thing.solid, frame, thing.low, 0)?.paths ?? []) solids.push(...path)
  const routes = scene.things.flatMap((thing): PathStep[] =>
    thing.kind === 'tube'
      ? thing.route.points.map((p, i) => [i === 0 ? 'M' : 'L', ...onPaper(frame, p)] as PathStep)
      : [],
  )
  const shared: PathItem[] = []
  if (solids.length > 0) shared.push({ kind: 'path', steps: solids, stroke: PALER, width: 0.1 })
  if (routes.length > 0) shared.push({ kind: 'path', steps: routes, stroke: GREY, width: 0.15 })
  return {
    draw: (x, y, at) => {
      const [px, py] = onPaper(frame, at)
      const mark = (dx: number, dy: number) =>
        line(x + px + dx * 1.6, y + py + dy * 1.6, x + px + dx * 4, y + py + dy * 4, 0.3, RED)
      return [
        { kind: 'shared', of: shared, x, y },
        circle(x + px, y + py, 1.6, { stroke: RED, width: 0.35 }),
        mark(1, 0),
        mark(-1, 0),
        mark(0, 1),
        mark(0, -1),
      ]
    },
  }
}

const min = (list: readonly (readonly [number, number])[], k: 0 | 1) =>
  list.reduce((m, p) => Math.min(m, p[k]), Infinity)
const max = (list: readonly (readonly [number, number])[], k: 0 | 1) =>
  list.reduce((m, p) => Math.max(m, p[k]), -Infinity)
