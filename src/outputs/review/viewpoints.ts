import type { SkidDocument, Viewpoint } from '../../document/types.ts'
import { dot, sub, type Vec3 } from '../../geometry/vec3.ts'
import { type Box, GREY, moved, type PaperItem, type PathItem, rectangle, words } from '../paper.ts'
import { wrapText } from '../paperFont.ts'
import { heading, type Unit } from '../sheetFlow.ts'
import { fitted } from '../titleBlock.ts'
import { frameAbout } from '../views.ts'
import { eyeAt, viewFrom } from './eye.ts'
import { meshLines } from './meshLines.ts'
import { outlineOf } from './outlines.ts'
import { type Scene, thingsNear } from './scene.ts'
import { inOrder, OUTLINE, type Painted, paintEnds, paintTube, piecesNear } from './tubes.ts'

const HEIGHT = 70
const LEAD = 3.9

/** Each saved viewpoint: a line drawing from its direction, and its note. */
export function viewpointUnits(document: SkidDocument, scene: Scene, w: number): Unit[] {
  if (document.viewpoints.length === 0) return []
  return [
    heading(`Saved views (${document.viewpoints.length})`, w),
    ...document.viewpoints.map((viewpoint): Unit => {
      const side = w * 0.62
      const lines = wrapText(viewpoint.note || 'No note.', w - side - 4, 3)
      const told = [
        `${viewpoint.by || 'no name'}, ${viewpoint.on}`,
        `${viewpoint.yaw.toFixed(0)}° round from +X, ${viewpoint.pitch.toFixed(0)}° above horizontal, ${viewpoint.span.toFixed(0)} mm high`,
        ...(viewpoint.section ? ['Section: parts wholly on the cut side are left out.'] : []),
        ...(viewpoint.hidden.length > 0 ? [`${viewpoint.hidden.length} parts hidden.`] : []),
      ].flatMap(t => wrapText(t, w - side - 4, 2.5))
      const height = Math.max(HEIGHT, 8 + lines.length * LEAD + told.length * 3.3 + 6)
      return {
        height,
        draw: (x, y) => {
          const name = fitted(viewpoint.name, w, 3.4, 2.4)
          const left = x + side + 4
          const box = { x: 0, y: 0, w: side, h: HEIGHT - 8 }
          return [
            words(x, y + 4.4, name.text, name.size, { bold: true }),
            ...moved(viewpointPicture(viewpoint, scene, box), x, y + 6),
            ...lines.map((text, k) => words(left, y + 9 + k * LEAD, text, 3)),
            ...told.map((text, k) =>
              words(left, y + 11 + lines.length * LEAD + k * 3.3, text, 2.5, { ink: GREY }),
            ),
          ]
        },
      }
    }),
  ]
}

/** The skid from the viewpoint in parallel projection, what it hides and cuts away left out. */
function viewpointPicture(viewpoint: Viewpoint, scene: Scene, box: Box): PaperItem[] {
  const { target, span, section } = viewpoint
  const view = viewFrom(eyeAt(viewpoint.yaw, viewpoint.pitch), viewpoint.name)
  const scale = box.h / span
  const frame = frameAbout(view, scale, target, box)
  // The picture has no depth limit: whatever is before or behind the target is seen too.
  const reach = Math.hypot(box.w, box.h) / 2 / scale
  const radius = scene.things.reduce(
    (r, t) =>
      t.low.every(Number.isFinite)
        ? Math.max(r, Math.hypot(...sub(t.low, target)), Math.hypot(...sub(t.high, target)))
        : r,
    reach,
  )
  const hidden = new Set(viewpoint.hidden)
  const cutAway = (p: Vec3) => section !== null && dot(sub(p, section.at), section.normal) > 0
  const style = { stroke: OUTLINE.near.ink, width: 0.13, clip: box }
  const bodies: PathItem[] = []
  const tubes: Painted[] = []
  for (const thing of thingsNear(scene, target, radius)) {
    if (hidden.has(thing.id) || hidden.has(thing.id.split('/')[0]!)) continue
    if (thing.kind === 'tube') {
      const { od } = thing.run.tube
      tubes.push(
        ...[
          ...paintTube(thing.id, piecesNear(thing.route.pieces, target, radius), od, frame, 'plain', box),
          ...paintEnds(thing.route, od, frame, 'plain', box),
        ].filter(p => !cutAway(p.at)),
      )
    } else if (thing.kind === 'solid') {
      if (section && thing.solid.shape !== 'plane' && cutAway(thing.solid.at)) continue
      for (const steps of outlineOf(thing.solid, frame, target, radius)?.paths ?? [])
        bodies.push({ kind: 'path', steps, ...style })
    } else {
      for (const { lines } of meshLines(thing, target, radius, frame).triangles)
        for (const [p, q] of lines)
          bodies.push({
            kind: 'path',
            steps: [
              ['M', ...p],
              ['L', ...q],
            ],
            ...style,
          })
    }
  }
  return [...bodies, ...inOrder(tubes), rectangle(box, { stroke: GREY, width: 0.18 })]
}
