import type { Solid } from '../document/types.ts'
import { box, type Convex, cylinder, halfSpace, sphere } from '../geometry/convex.ts'
import { isFiniteVec3, unit, type Vec3 } from '../geometry/vec3.ts'

/**
 * The solid as a convex shape, mm.
 *
 * @throws RangeError naming the solid, what was found and what was wanted, when a size is not above 0, an axis has
 *   no length or a figure is not finite.
 */
export function shapeOfSolid(solid: Solid): Convex {
  const refuse = (what: string, found: unknown, wanted: string): never => {
    throw new RangeError(`solid "${solid.name}": found ${what} ${JSON.stringify(found)}, wanted ${wanted}`)
  }
  const above0 = (what: string, x: number): number =>
    Number.isFinite(x) && x > 0 ? x : refuse(what, x, 'a length above 0 mm')
  const finite = (what: string, v: Vec3): Vec3 =>
    isFiniteVec3(v) ? v : refuse(what, v, 'three finite numbers')
  const along = (what: string, v: Vec3): Vec3 => unit(v) ?? refuse(what, v, 'a direction with a length')
  const at = finite('centre', solid.at)
  switch (solid.shape) {
    case 'box':
      solid.size.forEach(s => {
        above0('edge', s)
      })
      return box(at, solid.size, finite('turn', solid.turn))
    case 'cylinder':
      return cylinder(
        at,
        along('axis', solid.axis),
        above0('length', solid.length),
        above0('radius', solid.radius),
      )
    case 'sphere':
      return sphere(at, above0('radius', solid.radius))
    case 'plane':
      return halfSpace(at, along('normal', solid.normal))
  }
}

/** Whether two solids have the same outside, whatever else differs. */
export function sameShape(a: Solid, b: Solid): boolean {
  if (a === b) return true
  if (a.shape !== b.shape) return false
  const figures = (s: Solid): readonly number[] => {
    switch (s.shape) {
      case 'box':
        return [...s.at, ...s.size, ...s.turn]
      case 'cylinder':
        return [...s.at, ...s.axis, s.length, s.radius]
      case 'sphere':
        return [...s.at, s.radius]
      case 'plane':
        return [...s.at, ...s.normal]
    }
  }
  const other = figures(b)
  return figures(a).every((x, i) => x === other[i])
}
