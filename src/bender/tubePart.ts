import type { Vec3 } from '../geometry/vec3.ts'

/** Which part of the run a piece of tube is, numbered from end A, 0-based. */
export interface PartOfRun {
  readonly kind: 'straight' | 'bend'
  readonly index: number
}

/** A straight or a bend of the tube as it lies in the bench frame at t = 0 of its motion; lengths mm. */
export type TubePart =
  | { readonly of: PartOfRun; readonly kind: 'line'; readonly from: Vec3; readonly to: Vec3 }
  | {
      readonly of: PartOfRun
      readonly kind: 'arc'
      readonly centre: Vec3
      /** Unit, from the centre to where the arc begins. */
      readonly out: Vec3
      /** Unit heading where the arc begins. */
      readonly heading: Vec3
      readonly radius: number
      readonly angleRad: number
    }
