import { describe, expect, test } from 'vitest'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import type { View } from '../../src/view/scene/cameraRig.ts'
import { project, type Rig, rayAt } from '../../src/view/scene/cameraRig.ts'
import { nearestOnSegment, pickAt } from '../../src/view/scene/pick.ts'
import { seeded } from '../random.ts'
import { randomDocument } from '../skid/randomScene.ts'

const SEED = 41
const frame = { width: 900, height: 600 }
const TUBE_PX = 5

const viewOf = (rig: Rig): View => ({
  project: p => project(rig, frame, p),
  ray: (x, y) => rayAt(rig, frame, x, y),
})

/** The same question put to every chord of every run, without boxes: run's id and the point, or null. */
function everyChord(
  view: View,
  document: ReturnType<typeof randomDocument>,
  solved: ReturnType<typeof solveDocument>,
  x: number,
  y: number,
): { run: string; at: Vec3 } | null {
  const ray = view.ray(x, y)
  let best: { run: string; at: Vec3; score: number } | null = null
  document.runs.forEach((run, i) => {
    for (const piece of solved[i]!.route?.pieces ?? []) {
      const steps = piece.kind === 'line' ? 1 : Math.max(2, Math.ceil(piece.angleRad / 0.26))
      const points =
        piece.kind === 'line'
          ? [piece.start, piece.end]
          : Array.from(
              { length: steps + 1 },
              (_, k) => pointOn(piece, ((piece.to - piece.from) * k) / steps).point,
            )
      for (let k = 1; k < points.length; k++) {
        const { at } = nearestOnSegment(ray, points[k - 1]!, points[k]!)
        const seen = view.project(at)
        if (!seen) continue
        const away = Math.hypot(seen.x - x, seen.y - y) - (run.tube.od / 2) * seen.perMm
        const score = away > 0 ? 1e9 + away : -seen.depth
        if (away <= TUBE_PX && (!best || score < best.score)) best = { run: run.id, at, score }
      }
    }
  })
  return best
}

describe('picking by boxes', () => {
  for (const projection of ['perspective', 'orthographic'] as const)
    test(`answers as asking every chord does, ${projection}, from outside and from within (seed ${SEED})`, () => {
      const random = seeded(SEED)
      let hits = 0
      for (let scene = 0; scene < 3; scene++) {
        const document = randomDocument(random, 40, 0, 900, 6)
        const solved = solveDocument(document)
        for (let k = 0; k < 12; k++) {
          const view = viewOf({
            target: [random.between(-400, 900), random.between(-400, 900), random.between(-400, 900)],
            yaw: random.between(-3.14, 3.14),
            pitch: random.between(-1.57, 1.57),
            span: 10 ** random.between(1, 3.8),
            projection,
          })
          for (let i = 0; i < 12; i++) {
            const [x, y] = [random.between(0, frame.width), random.between(0, frame.height)]
            const found = pickAt(view, { document, solved, hidden: new Set(), handlesOf: null }, x, y)
            const wanted = everyChord(view, document, solved, x, y)
            const part = found?.part
            expect(part && 'run' in part ? part.run : null).toBe(wanted?.run ?? null)
            if (!wanted || !found) continue
            hits++
            expect(distance(found.at, wanted.at)).toBe(0)
          }
        }
      }
      expect(hits).toBeGreaterThan(30)
    })
})
