import type { OrderedBend } from '../solve/bendOrder.ts'
import { afterBend } from './afterBend.ts'
import {
  type BenchSetup,
  type BenchState,
  bending,
  type HoldProblem,
  holdProblem,
  settingUp,
  sidesAt,
  turnFor,
} from './housing.ts'
import { KINDS } from './kinds/benderKinds.ts'
import { isHalfTurn } from './layOut.ts'
import type { MotionName, MotionPlan } from './motionPlan.ts'
import { slidesOn } from './slidesOn.ts'
import { NotKnown, sweep } from './sweep.ts'
import type { PartOfRun } from './tubePart.ts'

/** Certified clearance of one motion; lengths mm, `at` and the range in the motion's own unit. */
export interface MotionClearance {
  readonly motion: MotionName
  readonly unit: 'mm' | 'deg'
  readonly from: number
  readonly to: number
  /** Nothing comes nearer than this over the whole motion; null when the bender has no solids for it. */
  readonly atLeast: number | null
  /**
   * How deep the contact goes, mm ≥ 0; null when the motion is certified clear, or not known. 0: touching, within the
   * tolerance.
   */
  readonly depth: number | null
  /** Where in the motion: mm slid or lifted, degrees turned or bent; where the arm stands when it goes back. */
  readonly at: number | null
  readonly part: PartOfRun | null
  readonly solid: string | null
  /** Why nothing is known of it although there is something to come near to; else null. Not known is never clear. */
  readonly unknown: string | null
  /** What was held then, and so does not count; null when nothing was. */
  readonly leftOut: string | null
}

export interface StepClearance {
  readonly step: OrderedBend
  readonly motions: readonly MotionClearance[]
  /** The worst of the motions; null when the bender has no solids. */
  readonly worst: MotionClearance | null
  readonly hold: HoldProblem | null
  /** Where the arm cannot go back past the tube: taking the tube out before it does. Else null. */
  readonly outInstead: MotionClearance | null
}

/** Every motion for one bend, in the order in which they happen. */
export function motionPlans(setup: BenchSetup, state: BenchState): MotionPlan[] {
  const before = sidesAt(setup, state)
  return [
    ...settingUp(setup, state, before),
    bending(setup, state, before),
    ...afterBend(setup, state, before),
  ]
}

/** Which way half turns go whose way the order does not say: clockwise, or whichever clears by more. */
export type Ways = 'clockwise' | 'clearer'

/** A half turn goes clockwise unless the other way is clearer by more than this, mm: what is printed. */
const CLEARER_MM = 0.1

/** Certified clearance of every motion for one bend in its state. */
export function clearStep(setup: BenchSetup, asked: BenchState, ways: Ways = 'clockwise'): StepClearance {
  const state = ways === 'clearer' ? withClearerWay(setup, asked) : asked
  const motions = motionPlans(setup, state).map(plan => clearMotion(setup, plan))
  const worst = motions.reduce<MotionClearance | null>(
    (w, m) => (m.atLeast !== null && (w?.atLeast == null || m.atLeast < w.atLeast) ? m : w),
    null,
  )
  const sides = sidesAt(setup, state)
  const barred = motions.some(m => m.motion === 'armBack' && m.depth !== null)
  return {
    step: {
      bend: state.bend,
      lead: state.lead,
      ...(state.way === 'counter-clockwise' && halfTurnAt(setup, state) ? { way: state.way } : {}),
    },
    motions,
    worst,
    hold: holdProblem(setup, sides, state),
    outInstead: barred
      ? clearMotion(setup, afterBend({ ...setup, tubeOutFirst: true }, state, sides)[0]!)
      : null,
  }
}

/** True when the tube is turned by half a turn in the bender, where either way can be gone. */
const halfTurnAt = (setup: BenchSetup, state: BenchState): boolean =>
  slidesOn(setup, state) && isHalfTurn(turnFor(setup, state))

/** A way that is given is kept. */
function withClearerWay(setup: BenchSetup, state: BenchState): BenchState {
  if (state.way !== undefined || !halfTurnAt(setup, state)) return state
  const sides = sidesAt(setup, state)
  const figure = (way: OrderedBend['way'] & string) => {
    const turn = settingUp(setup, { ...state, way }, sides).find(p => p.motion === 'turn')!
    const found = clearMotion(setup, turn)
    return found.unknown === null ? (found.atLeast ?? Number.POSITIVE_INFINITY) : Number.NEGATIVE_INFINITY
  }
  const other = figure('counter-clockwise')
  return other > figure('clockwise') + CLEARER_MM ? { ...state, way: 'counter-clockwise' } : state
}

function clearMotion(setup: BenchSetup, plan: MotionPlan): MotionClearance {
  const base = {
    motion: plan.motion,
    unit: plan.unit,
    from: plan.from,
    to: plan.to,
    leftOut: plan.motion === 'bend' ? KINDS[setup.kind].held : null,
  }
  const nothing = { atLeast: null, depth: null, at: null, part: null, solid: null }
  try {
    const result = sweep(plan.jobs, setup.od / 2)
    if (result === null) return { ...base, ...nothing, unknown: null }
    const { atLeast, found, at, part, solid } = result
    return {
      ...base,
      atLeast,
      depth: atLeast < 0 ? Math.max(0, 0 - found) : null,
      at,
      part,
      solid,
      unknown: null,
    }
  } catch (error) {
    if (error instanceof NotKnown) return { ...base, ...nothing, unknown: error.message }
    throw error
  }
}

/** Certified clearances of every step of an order of work. */
export function clearOrder(
  setup: BenchSetup,
  order: readonly OrderedBend[],
  ways: Ways = 'clockwise',
): StepClearance[] {
  const done = new Set<number>()
  return order.map((step, i) => {
    const result = clearStep(
      setup,
      { ...step, before: order[i - 1] ?? null, made: bend => done.has(bend) },
      ways,
    )
    done.add(step.bend)
    return result
  })
}
