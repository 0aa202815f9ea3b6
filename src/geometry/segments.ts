/** Nearest places on two segments: `u`, `v` in [0, 1] along each, and their distance (mm). Filled in place. */
export interface SegmentPair {
  u: number
  v: number
  distance: number
}

/** The two ends of a segment as plain numbers: this is the innermost loop, so no tuples are made in it. */
export interface SegmentEnds {
  readonly ax: number
  readonly ay: number
  readonly az: number
  readonly bx: number
  readonly by: number
  readonly bz: number
}

const clamp01 = (t: number) => Math.min(Math.max(t, 0), 1)

/** Squared sine under which two directions count as parallel; the last pass below mends what that costs. */
const PARALLEL = 1e-14

/**
 * Least distance between two segments, written to `out`. Segments without length are points. For parallel
 * segments any nearest place may be given.
 *
 * The minimum of a convex quadratic over a square: its free minimum, clamped, one variable after the other, and
 * one more pass, because close to parallel the free minimum is ill-conditioned while the distance is not.
 */
export function nearestOnSegments(p: SegmentEnds, q: SegmentEnds, out: SegmentPair): void {
  const d1x = p.bx - p.ax
  const d1y = p.by - p.ay
  const d1z = p.bz - p.az
  const d2x = q.bx - q.ax
  const d2y = q.by - q.ay
  const d2z = q.bz - q.az
  const rx = p.ax - q.ax
  const ry = p.ay - q.ay
  const rz = p.az - q.az
  const a = d1x * d1x + d1y * d1y + d1z * d1z
  const e = d2x * d2x + d2y * d2y + d2z * d2z
  const b = d1x * d2x + d1y * d2y + d1z * d2z
  const c = d1x * rx + d1y * ry + d1z * rz
  const f = d2x * rx + d2y * ry + d2z * rz
  const det = a * e - b * b
  let u = det > PARALLEL * a * e ? clamp01((b * f - c * e) / det) : 0
  let v = e > 0 ? clamp01((b * u + f) / e) : 0
  u = a > 0 ? clamp01((b * v - c) / a) : 0
  v = e > 0 ? clamp01((b * u + f) / e) : 0
  const x = rx + d1x * u - d2x * v
  const y = ry + d1y * u - d2y * v
  const z = rz + d1z * u - d2z * v
  out.u = u
  out.v = v
  out.distance = Math.sqrt(x * x + y * y + z * z)
}
