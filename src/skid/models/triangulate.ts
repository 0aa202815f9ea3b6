type Coordinates = ArrayLike<number>

/**
 * A polygon's triangles as places in `corners`, three each. One that is flat and does not cross itself is covered
 * exactly, also where it is not convex; one that does is taken as a fan from its first corner.
 *
 * @param positions x, y, z of each vertex.
 * @param corners the polygon's vertex numbers in order; at least three.
 */
export function triangulate(positions: Coordinates, corners: readonly number[]): number[] {
  const n = corners.length
  const fan = Array.from({ length: n - 2 }, (_, k) => [0, k + 1, k + 2]).flat()
  if (n === 3) return fan
  const flat = flattened(positions, corners)
  if (!flat) return fan
  const turn = (i: number, j: number, k: number): number => {
    const [ax, ay] = flat[i]!
    const [bx, by] = flat[j]!
    const [cx, cy] = flat[k]!
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
  }
  if (corners.every((_, i) => turn(i, (i + 1) % n, (i + 2) % n) >= 0)) return fan
  const left = corners.map((_, i) => i)
  const made: number[] = []
  while (left.length > 3) {
    const ear = left.findIndex((_, i) => {
      const a = left[(i + left.length - 1) % left.length]!
      const b = left[i]!
      const c = left[(i + 1) % left.length]!
      if (!(turn(a, b, c) > 0)) return false
      return left.every(
        p => p === a || p === b || p === c || turn(a, b, p) < 0 || turn(b, c, p) < 0 || turn(c, a, p) < 0,
      )
    })
    if (ear < 0) return fan
    made.push(left[(ear + left.length - 1) % left.length]!, left[ear]!, left[(ear + 1) % left.length]!)
    left.splice(ear, 1)
  }
  return [...made, ...left]
}

/**
 * Whether a polygon of four corners may be cut from its first to its third: it is convex, or has no area. The same
 * answer as `triangulate` gives, for meshes of millions of them.
 */
export function isPlainQuad(p: Coordinates, a: number, b: number, c: number, d: number): boolean {
  // Twice the area's vector is the cross product of the diagonals.
  const ux = p[3 * c]! - p[3 * a]!
  const uy = p[3 * c + 1]! - p[3 * a + 1]!
  const uz = p[3 * c + 2]! - p[3 * a + 2]!
  const vx = p[3 * d]! - p[3 * b]!
  const vy = p[3 * d + 1]! - p[3 * b + 1]!
  const vz = p[3 * d + 2]! - p[3 * b + 2]!
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const k =
    Math.abs(nx) >= Math.abs(ny) && Math.abs(nx) >= Math.abs(nz) ? 0 : Math.abs(ny) >= Math.abs(nz) ? 1 : 2
  const facing = k === 0 ? nx : k === 1 ? ny : nz
  if (!(Math.abs(facing) > 0)) return true
  const i = (k + 1) % 3
  const j = (k + 2) % 3
  const turn = (q: number, r: number, s: number) =>
    ((p[3 * r + i]! - p[3 * q + i]!) * (p[3 * s + j]! - p[3 * q + j]!) -
      (p[3 * r + j]! - p[3 * q + j]!) * (p[3 * s + i]! - p[3 * q + i]!)) *
    facing
  return turn(a, b, c) >= 0 && turn(b, c, d) >= 0 && turn(c, d, a) >= 0 && turn(d, a, b) >= 0
}

/** The corners in the plane of the two axes that the polygon faces most, counter-clockwise; null when it has no area. */
function flattened(positions: Coordinates, corners: readonly number[]): [number, number][] | null {
  const normal = [0, 0, 0]
  const at = (i: number, k: number) => positions[3 * corners[i % corners.length]! + (k % 3)]!
  for (let i = 0; i < corners.length; i++)
    for (let k = 0; k < 3; k++)
      normal[k]! += (at(i, k + 1) - at(i + 1, k + 1)) * (at(i, k + 2) + at(i + 1, k + 2))
  const size = normal.map(Math.abs)
  const k = size.indexOf(Math.max(...size))
  const facing = normal[k] ?? 0
  if (!(Math.abs(facing) > 0)) return null
  const hand = Math.sign(facing)
  return corners.map((_, i) => [at(i, k + 1) * hand, at(i, k + 2)])
}
