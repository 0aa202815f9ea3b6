import { everyDigit, type Sentence, say, told } from '../document/sentence.ts'
import type { Solid } from '../document/types.ts'
import { box, type Convex, cylinder, halfSpace, sphere } from '../geometry/convex.ts'
import { isFiniteVec3, unit, type Vec3 } from '../geometry/vec3.ts'

/** A solid that has no shape: its name, what was found and what was wanted. */
export class NoShape extends RangeError {
  readonly sentence: Sentence
  constructor(sentence: Sentence) {
    super(told(sentence).message)
    this.sentence = sentence
  }
}

/**
 * The solid as a convex shape, mm.
 *
 * @throws NoShape naming the solid, what was found and what was wanted, when a size is not above 0, an axis has
 *   no length or a figure is not finite.
 */
export function shapeOfSolid(solid: Solid): Convex {
  const refuse = (what: string, found: Sentence, wanted: Sentence): never => {
    throw new NoShape(say`solid "${solid.name}": found ${what} ${found}, wanted ${wanted}`)
  }
  const number = (x: number) => (Number.isFinite(x) ? everyDigit(x, true) : 'null')
  const numbers = (v: Vec3) => say`${JSON.stringify(v)}`
  const above0 = (what: string, x: number): number =>
    Number.isFinite(x) && x > 0 ? x : refuse(what, say`${number(x)}`, say`a length above ${everyDigit(0)}`)
  const finite = (what: string, v: Vec3, found = numbers(v)): Vec3 =>
    isFiniteVec3(v) ? v : refuse(what, found, say`three finite numbers`)
  const along = (what: string, v: Vec3): Vec3 =>
    unit(v) ?? refuse(what, numbers(v), say`a direction with a length`)
  const [x, y, z] = solid.at
  const at = finite('centre', solid.at, say`[${number(x)},${number(y)},${number(z)}]`)
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
