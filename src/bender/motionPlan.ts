import type { SweepJob } from './sweep.ts'

/**
 * What happens at the bender for one bend. The tube slides to its mark from where the bend before left the die;
 * when bends already made lie in the way, the tube was turned end for end or comes out after every bend, it is put
 * in from above instead, turned to its plane in the air. After the bend the arm goes back to its start while the
 * tube lies in the die, then the tube is lifted out; a bender that lets it out first has no such swing.
 */
export type MotionName = 'putIn' | 'slide' | 'turn' | 'bend' | 'armBack' | 'takeOut'

/** A side of the tube in one motion against the solids that stand still in the motion's frame. */
export interface SideJob extends SweepJob {
  readonly side: 'front' | 'tail'
  /** False: its parts are of the bend in hand, and not the side's own from the tangent point outwards. */
  readonly outward: boolean
}

/** A motion as what has to be swept for it. What no job holds against a solid is held by it. */
export interface MotionPlan {
  readonly motion: MotionName
  readonly unit: 'mm' | 'deg'
  /** The motion's range as `at` reads it. */
  readonly from: number
  readonly to: number
  readonly jobs: readonly SideJob[]
}
