import {
  add,
  anySquareTo,
  cross,
  DEG,
  dot,
  scale,
  turnDirection,
  unit,
  type Vec3,
} from '../../geometry/vec3.ts'
import { ISOMETRIC, type View } from '../views.ts'

/** The parallel view from an eye direction (unit), the skid's z as far up as it goes. */
export function viewFrom(eye: Vec3, name: string): View {
  const up: Vec3 = Math.abs(eye[2]) > 0.9999 ? [0, 1, 0] : [0, 0, 1]
  const right = unit(cross(up, eye)) ?? [1, 0, 0]
  return { name, right, up: cross(eye, right), eye, axes: null }
}

/** Eye direction from a turn about z counter-clockwise from +x and a height above the level, degrees. */
export function eyeAt(yaw: number, pitch: number): Vec3 {
  const [y, p] = [yaw * DEG, pitch * DEG]
  return [Math.cos(y) * Math.cos(p), Math.sin(y) * Math.cos(p), Math.sin(p)]
}

const AXES: readonly (readonly [Vec3, string])[] = [
  [[0, -1, 0], '-Y'],
  [[1, 0, 0], '+X'],
  [[0, 0, 1], '+Z'],
  [[0, 1, 0], '+Y'],
  [[-1, 0, 0], '-X'],
  [[0, 0, -1], '-Z'],
]

/** "seen from +X", or the eye's turn and height. */
export function eyeWords(eye: Vec3): string {
  const axis = AXES.find(([a]) => dot(a, eye) > 1 - 1e-9)
  if (axis) return `seen from ${axis[1]}`
  const yaw = ((Math.atan2(eye[1], eye[0]) / DEG + 360) % 360).toFixed(0)
  const pitch = Math.round(Math.asin(Math.max(-1, Math.min(1, eye[2]))) / DEG)
  return `seen from ${yaw}° round from +X, ${Math.abs(pitch)}° ${pitch < 0 ? 'below' : 'above'} horizontal`
}

/** Steps of the eye round the gap. */
const STEPS = 24

/**
 * The view square to a gap in which both parties are seen best: each as little end-on as can be, then along one of the
 * skid's axes, then from where an isometric is seen. `along` is the gap's direction (unit; null when its ends are one
 * point), `tangents` the directions of the tubes at its ends (unit).
 */
export function viewSquareTo(along: Vec3 | null, tangents: readonly Vec3[]): View {
  const gap = along ?? unit(cross(tangents[0] ?? [1, 0, 0], tangents[1] ?? [0, 0, 1]))
  if (!gap) return ISOMETRIC
  const side = anySquareTo(gap)
  const eyes = [
    ...AXES.map(([a]) => a).filter(a => Math.abs(dot(a, gap)) < 1e-9),
    ...Array.from({ length: STEPS }, (_, k) => turnDirection(side, gap, (2 * Math.PI * k) / STEPS)),
  ]
  const worth = (eye: Vec3): number => {
    const seen = Math.min(1, ...tangents.map(t => Math.sqrt(Math.max(0, 1 - dot(t, eye) ** 2))))
    const square = AXES.some(([a]) => dot(a, eye) > 1 - 1e-9) ? 0.12 : 0
    return seen + square + 0.06 * dot(eye, ISOMETRIC.eye)
  }
  const best = eyes.reduce((a, b) => (worth(b) > worth(a) + 1e-9 ? b : a))
  // Turned about the gap the eye is square to it only up to rounding; the drawing is measured on.
  const exact = unit(add(best, scale(gap, -dot(best, gap)))) ?? best
  return viewFrom(exact, eyeWords(exact))
}
