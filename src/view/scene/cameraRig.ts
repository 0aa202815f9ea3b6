import { add, addScaled, dot, isFiniteVec3, scale, sub, unit, type Vec3 } from '../../geometry/vec3.ts'

/** Where the picture is taken from. Angles rad, lengths mm, +z up. Immutable. */
export interface Rig {
  readonly target: Vec3
  /** Of the eye about the target, counter-clockwise from +x seen from above. */
  readonly yaw: number
  /** Of the eye above the level, −π/2 … π/2. */
  readonly pitch: number
  /** Height of what the picture shows at the target. */
  readonly span: number
  readonly projection: 'perspective' | 'orthographic'
}
export interface Frame {
  readonly width: number
  readonly height: number
}
export interface Ray {
  readonly origin: Vec3
  readonly direction: Vec3
}
export interface Box3 {
  readonly low: Vec3
  readonly high: Vec3
}

/** What picking needs of a camera: where a point is seen, in px, and the ray through a px. */
export interface View {
  project(p: Vec3): { x: number; y: number; perMm: number; depth: number } | null
  ray(x: number, y: number): Ray
}

export const FOV_DEG = 32
const HALF = Math.tan((FOV_DEG * Math.PI) / 360)
/** Nearest and farthest look, mm across the picture: a tenth of a tube's wall, and a whole plant. */
const SPANS = [0.5, 1e6] as const

/** Unit vectors of the picture: to its right, up it, and towards the eye. Defined straight up and down too. */
export function basis(rig: Rig): { right: Vec3; up: Vec3; back: Vec3 } {
  const [cy, sy, cp, sp] = [Math.cos(rig.yaw), Math.sin(rig.yaw), Math.cos(rig.pitch), Math.sin(rig.pitch)]
  return { right: [-sy, cy, 0], up: [-sp * cy, -sp * sy, cp], back: [cp * cy, cp * sy, sp] }
}

/** Eye to target, mm. */
export const eyeDistance = (rig: Rig): number => rig.span / (2 * HALF)

/** Screen position in px from the top left, px per mm there, and depth (mm towards the eye); null behind the eye. */
export function project(
  rig: Rig,
  frame: Frame,
  p: Vec3,
): { x: number; y: number; perMm: number; depth: number } | null {
  const { right, up, back } = basis(rig)
  const v = sub(p, rig.target)
  const depth = dot(v, back)
  let perMm = frame.height / rig.span
  if (rig.projection === 'perspective') {
    const far = eyeDistance(rig)
    if (far - depth <= far * 1e-3) return null
    perMm *= far / (far - depth)
  }
  return {
    x: frame.width / 2 + dot(v, right) * perMm,
    y: frame.height / 2 - dot(v, up) * perMm,
    perMm,
    depth,
  }
}

/** The point on the plane through the target facing the eye that lies under a screen position. */
function onTargetPlane(rig: Rig, frame: Frame, x: number, y: number): Vec3 {
  const { right, up } = basis(rig)
  const mm = rig.span / frame.height
  return addScaled(addScaled(rig.target, right, (x - frame.width / 2) * mm), up, (frame.height / 2 - y) * mm)
}

/** The ray of sight through a screen position, px from the top left. */
export function rayAt(rig: Rig, frame: Frame, x: number, y: number): Ray {
  const { back } = basis(rig)
  const on = onTargetPlane(rig, frame, x, y)
  if (rig.projection === 'orthographic')
    return { origin: addScaled(on, back, 100 * rig.span + 1e5), direction: scale(back, -1) }
  const eye = addScaled(rig.target, back, eyeDistance(rig))
  return { origin: eye, direction: unit(sub(on, eye)) ?? scale(back, -1) }
}

/** Turned by a drag of dx, dy px: half a picture's height is a right angle. */
export function orbited(rig: Rig, frame: Frame, dx: number, dy: number): Rig {
  const perPx = Math.PI / frame.height
  const pitch = Math.min(Math.PI / 2, Math.max(-Math.PI / 2, rig.pitch + dy * perPx))
  return { ...rig, yaw: rig.yaw - dx * perPx, pitch }
}

export function panned(rig: Rig, frame: Frame, dx: number, dy: number): Rig {
  const { right, up } = basis(rig)
  const mm = rig.span / frame.height
  return { ...rig, target: addScaled(addScaled(rig.target, right, -dx * mm), up, dy * mm) }
}

/**
 * The same picture with the target moved `depth` mm towards the eye: turning and zooming then go about what lies there.
 * A depth at or behind the eye is let be.
 */
export function aimedAt(rig: Rig, depth: number): Rig {
  const { back } = basis(rig)
  const target = addScaled(rig.target, back, depth)
  if (rig.projection === 'orthographic') return { ...rig, target }
  const far = eyeDistance(rig)
  if (depth > 0.98 * far) return rig
  return { ...rig, target, span: (rig.span * (far - depth)) / far }
}

/** Shows `factor` times as much, what lies under the screen position staying there. */
export function zoomed(rig: Rig, frame: Frame, x: number, y: number, factor: number): Rig {
  const span = Math.min(SPANS[1], Math.max(SPANS[0], rig.span * factor))
  const by = span / rig.span
  const on = onTargetPlane(rig, frame, x, y)
  return { ...rig, span, target: add(on, scale(sub(rig.target, on), by)) }
}

/** Height of a row of buttons with the gap beside it, px. */
const BAR_PX = 40
/** A lower picture is not made lower still. px */
const LOW_PX = 240

/** As {@link fitted}, between the rows of buttons that lie over the picture at its top and bottom. */
export function fittedBetweenBars(rig: Rig, frame: Frame, points: readonly Vec3[], margin = 0.06): Rig {
  if (frame.height < LOW_PX) return fitted(rig, frame, points, margin)
  const height = frame.height - 2 * BAR_PX
  const inner = fitted(rig, { ...frame, height }, points, margin)
  return { ...inner, span: Math.min(SPANS[1], (inner.span * frame.height) / height) }
}

/**
 * The same line of sight, moved and zoomed so that the points fill the picture, in its middle, but for a margin (part
 * of it). In perspective the middle is found step by step; that all points are in the picture is exact.
 */
export function fitted(rig: Rig, frame: Frame, points: readonly Vec3[], margin = 0.1): Rig {
  const { right, up, back } = basis(rig)
  const share = 1 - 2 * margin
  const aspect = frame.width / Math.max(1, frame.height)
  const inPerspective = rig.projection === 'perspective'
  // In one buffer: a thousand runs are some ten thousand points, gone through a dozen times.
  const seen = new Float64Array(3 * points.length)
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  const axes = [right, up, back]
  let filled = 0
  for (const p of points) {
    if (!isFiniteVec3(p)) continue
    for (let k = 0; k < 3; k++) {
      const along = dot(p, axes[k]!)
      seen[filled++] = along
      if (along < low[k]!) low[k] = along
      if (along > high[k]!) high[k] = along
    }
  }
  if (filled === 0) return rig
  let [x, y] = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2]
  const depth = (low[2] + high[2]) / 2
  const spanNeeded = () => {
    let span = 20
    for (let i = 0; i < filled; i += 3) {
      const across = Math.max(Math.abs(seen[i + 1]! - y), Math.abs(seen[i]! - x) / aspect)
      const wanted = (2 * across) / share + (inPerspective ? (seen[i + 2]! - depth) * 2 * HALF : 0)
      if (wanted > span) span = wanted
    }
    return span
  }
  for (let round = 0; inPerspective && round < 10; round++) {
    const far = spanNeeded() / (2 * HALF)
    let [leftmost, rightmost, lowest, highest] = [Infinity, -Infinity, Infinity, -Infinity]
    for (let i = 0; i < filled; i += 3) {
      const larger = far / Math.max(far * 0.05, far - (seen[i + 2]! - depth))
      const px = (seen[i]! - x) * larger
      const py = (seen[i + 1]! - y) * larger
      if (px < leftmost) leftmost = px
      if (px > rightmost) rightmost = px
      if (py < lowest) lowest = py
      if (py > highest) highest = py
    }
    x += (leftmost + rightmost) / 2
    y += (lowest + highest) / 2
  }
  const target = addScaled(addScaled(scale(right, x), up, y), back, depth)
  return { ...rig, target, span: Math.min(SPANS[1], spanNeeded()) }
}

/** The line of sight nearest to the present one that is square to a direction: a gap along it is seen in full. */
export function squareTo(rig: Rig, direction: Vec3): Rig {
  const along = unit(direction)
  if (!along) return rig
  const { back, up } = basis(rig)
  const sight = unit(addScaled(back, along, -dot(back, along))) ?? unit(addScaled(up, along, -dot(up, along)))
  if (!sight) return rig
  const level = Math.hypot(sight[0], sight[1])
  return {
    ...rig,
    yaw: level > 1e-9 ? Math.atan2(sight[1], sight[0]) : rig.yaw,
    pitch: Math.atan2(sight[2], level),
  }
}

const QUARTER = Math.PI / 2
/** Standard views: x to the right from the front, top and bottom; iso looks from the right, front and above. */
export const LOOKS: Readonly<
  Record<'top' | 'bottom' | 'front' | 'back' | 'left' | 'right' | 'iso', { yaw: number; pitch: number }>
> = {
  top: { yaw: -QUARTER, pitch: QUARTER },
  bottom: { yaw: -QUARTER, pitch: -QUARTER },
  front: { yaw: -QUARTER, pitch: 0 },
  back: { yaw: QUARTER, pitch: 0 },
  left: { yaw: Math.PI, pitch: 0 },
  right: { yaw: 0, pitch: 0 },
  iso: { yaw: -Math.PI / 4, pitch: Math.asin(1 / Math.sqrt(3)) },
}

/** Between two rigs, the short way round, t in 0 … 1. */
export function between(a: Rig, b: Rig, t: number): Rig {
  if (t >= 1) return b
  const turn = Math.atan2(Math.sin(b.yaw - a.yaw), Math.cos(b.yaw - a.yaw))
  return {
    ...b,
    target: add(a.target, scale(sub(b.target, a.target), t)),
    yaw: a.yaw + turn * t,
    pitch: a.pitch + (b.pitch - a.pitch) * t,
    span: a.span * (b.span / a.span) ** t,
  }
}
