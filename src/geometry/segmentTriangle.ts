import { nearestOnSegments, type SegmentEnds, type SegmentPair } from './segments.ts'

/** Nearest places of a segment and a triangle: share `u` along the segment, a point of the triangle, distance, mm. */
export interface SegmentTriangle {
  u: number
  x: number
  y: number
  z: number
  distance: number
}

/**
 * Least distance between a segment and the triangle whose nine coordinates start at `at`, when below `limit`:
 * written to `out`, and true. Triangles without area are their edges.
 *
 * It lies between the segment and an edge, or between an end of the segment and the triangle's inside, or is 0
 * where the segment goes through.
 */
export function nearestOnTriangle(
  s: SegmentEnds,
  corners: Float64Array,
  at: number,
  limit: number,
  pair: SegmentPair,
  out: SegmentTriangle,
): boolean {
  let found = false
  let least = limit
  const side: { -readonly [K in keyof SegmentEnds]: number } = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  for (let k = 0; k < 3; k++) {
    const p = at + 3 * k
    const q = at + 3 * ((k + 1) % 3)
    side.ax = corners[p]!
    side.ay = corners[p + 1]!
    side.az = corners[p + 2]!
    side.bx = corners[q]!
    side.by = corners[q + 1]!
    side.bz = corners[q + 2]!
    nearestOnSegments(s, side, pair)
    if (pair.distance < least) {
      least = pair.distance
      found = true
      out.u = pair.u
      out.x = side.ax + (side.bx - side.ax) * pair.v
      out.y = side.ay + (side.by - side.ay) * pair.v
      out.z = side.az + (side.bz - side.az) * pair.v
      out.distance = least
    }
  }
  return insidePlaces(s, corners, at, least, out) || found
}

function insidePlaces(
  s: SegmentEnds,
  c: Float64Array,
  at: number,
  limit: number,
  out: SegmentTriangle,
): boolean {
  const px = c[at]!
  const py = c[at + 1]!
  const pz = c[at + 2]!
  const ex = c[at + 3]! - px
  const ey = c[at + 4]! - py
  const ez = c[at + 5]! - pz
  const fx = c[at + 6]! - px
  const fy = c[at + 7]! - py
  const fz = c[at + 8]! - pz
  const nx = ey * fz - ez * fy
  const ny = ez * fx - ex * fz
  const nz = ex * fy - ey * fx
  const nn = nx * nx + ny * ny + nz * nz
  if (nn === 0) return false
  const size = Math.sqrt(nn)
  const ha = ((s.ax - px) * nx + (s.ay - py) * ny + (s.az - pz) * nz) / size
  const hb = ((s.bx - px) * nx + (s.by - py) * ny + (s.bz - pz) * nz) / size
  const through = ha * hb < 0
  let found = false
  let least = limit
  for (let k = 0; k < (through ? 3 : 2); k++) {
    const u = k === 0 ? 0 : k === 1 ? 1 : ha / (ha - hb)
    const h = k === 0 ? ha : k === 1 ? hb : 0
    if (!(Math.abs(h) < least)) continue
    const x = s.ax + (s.bx - s.ax) * u - (h * nx) / size
    const y = s.ay + (s.by - s.ay) * u - (h * ny) / size
    const z = s.az + (s.bz - s.az) * u - (h * nz) / size
    const rx = x - px
    const ry = y - py
    const rz = z - pz
    const beta = ((ry * fz - rz * fy) * nx + (rz * fx - rx * fz) * ny + (rx * fy - ry * fx) * nz) / nn
    const gamma = ((ey * rz - ez * ry) * nx + (ez * rx - ex * rz) * ny + (ex * ry - ey * rx) * nz) / nn
    if (beta < 0 || gamma < 0 || beta + gamma > 1) continue
    least = Math.abs(h)
    found = true
    out.u = u
    out.x = x
    out.y = y
    out.z = z
    out.distance = least
  }
  return found
}
