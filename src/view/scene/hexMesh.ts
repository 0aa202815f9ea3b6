import type { Fitting } from '../../document/types.ts'
import { add, addScaled, anySquareTo, cross, scale, unit, type Vec3 } from '../../geometry/vec3.ts'

/** Flat-shaded triangles of all fittings, with the stretch of `index`-free positions that each one takes. */
export interface FittingMesh {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly ranges: ReadonlyMap<string, { readonly start: number; readonly count: number }>
}

/** What a fitting is drawn as: a hexagon body behind its port's face, a nut's collar on the face. mm. */
export function fittingSize(fitting: Fitting): { flats: number; behind: number; collar: number } {
  const od = fitting.tubeOd ?? 12
  return {
    flats: 1.75 * od,
    behind: Math.max(1.6 * od, 1.25 * fitting.insertionDepth),
    collar: Math.min(0.7 * od, Math.max(0.25 * od, fitting.straightNeeded * 0.4)),
  }
}

/** All fittings of a document as one mesh, mm. A sign for a port, not the maker's shape. */
export function fittingMesh(fittings: readonly Fitting[]): FittingMesh {
  const positions: number[] = []
  const normals: number[] = []
  const ranges = new Map<string, { start: number; count: number }>()
  const tri = (a: Vec3, b: Vec3, c: Vec3, n: Vec3) => {
    positions.push(...a, ...b, ...c)
    normals.push(...n, ...n, ...n)
  }
  const prism = (from: Vec3, axis: Vec3, long: number, circumradius: number, sides: number) => {
    const u = anySquareTo(axis)
    const v = cross(axis, u)
    const out = (i: number): Vec3 => {
      const a = (2 * Math.PI * i) / sides
      return add(scale(u, Math.cos(a)), scale(v, Math.sin(a)))
    }
    const to = addScaled(from, axis, long)
    for (let i = 0; i < sides; i++) {
      const [p, q] = [out(i), out(i + 1)]
      const [a, b] = [addScaled(from, p, circumradius), addScaled(from, q, circumradius)]
      const [c, d] = [addScaled(to, p, circumradius), addScaled(to, q, circumradius)]
      const n = out(i + 0.5)
      tri(a, b, c, n)
      tri(c, b, d, n)
      tri(from, b, a, scale(axis, -1))
      tri(to, c, d, axis)
    }
  }
  for (const fitting of fittings) {
    const axis = unit(fitting.axis)
    if (!axis || !fitting.position.every(Number.isFinite)) continue
    const { flats, behind, collar } = fittingSize(fitting)
    const start = positions.length / 3
    prism(addScaled(fitting.position, axis, -behind), axis, behind * 0.72, flats / Math.sqrt(3), 6)
    prism(addScaled(fitting.position, axis, -behind * 0.28), axis, behind * 0.28, flats * 0.38, 16)
    prism(fitting.position, axis, collar, flats * 0.46, 6)
    ranges.set(fitting.id, { start, count: positions.length / 3 - start })
  }
  return { positions: new Float32Array(positions), normals: new Float32Array(normals), ranges }
}
