import type { MotionClearance } from '../../bender/clearStep.ts'
import { type OutsideMotion, slideOf, type TubeMotion, tubeAtDie } from '../../bender/tubeAtDie.ts'
import type { Piece } from '../../solve/types.ts'
import { MOTION_NAMES } from './clearanceWords.ts'
import type { Programme } from './programme.ts'
import type { Screen } from './screens.ts'

/** One motion that the picture of a step plays. */
export interface Shown {
  readonly motion: TubeMotion
  /** On its button. */
  readonly name: string
  readonly unit: 'mm' | 'deg'
  readonly from: number
  readonly to: number
  /** How high the tube is lifted where the motion lifts it or goes on above the die, mm. */
  readonly lift: number
  readonly clearance: MotionClearance | null
}

/** The height a tube is drawn lifted to when nothing is known to lift it clear of. mm */
const LIFT_MM = 150

/** Room between the die and a tube that is turned above it. mm */
const OUTSIDE_MM = 40

const OUTSIDE_NAMES: Record<OutsideMotion, string> = {
  outBefore: 'taking out',
  endForEnd: 'end for end',
  turnOutside: 'rotating',
}

/**
 * What the tube does in step `i`, in the order of doing it. A tube that is put in anew is taken out of the bend before,
 * turned outside and put in; nothing of it slides.
 *
 * @param clearances of this step's motions, null while not known; `before`: of the step before, for its taking out.
 */
export function motionsShown(
  { layout, stock, atDie }: Programme,
  i: number,
  clearances: readonly MotionClearance[] | null,
  before: readonly MotionClearance[] | null,
): readonly Shown[] {
  const step = layout.steps[i]!
  const { takenOut, turnedEndForEnd, turns } = atDie[i]!
  const turn = step.turn ?? 0
  const dial = step.dial ?? step.angle
  const inside = (
    motion: MotionClearance['motion'],
    unit: 'mm' | 'deg',
    from: number,
    to: number,
    clearance: MotionClearance | null = null,
  ): Shown => {
    const lift = motion === 'putIn' ? from : motion === 'takeOut' ? to : 0
    return { motion, name: MOTION_NAMES[motion], unit, from, to, lift, clearance }
  }
  const ofStep = clearances?.map(c => inside(c.motion, c.unit, c.from, c.to, c)) ?? [
    ...(takenOut === null
      ? [inside('slide', 'mm', 0, slideOf(layout, i)), ...(turns ? [inside('turn', 'deg', 0, turn)] : [])]
      : [inside('putIn', 'mm', LIFT_MM, 0)]),
    inside('bend', 'deg', 0, dial),
    // Nothing of the tube is in the way of an arm that goes back without it.
    ...(layout.tubeOutFirst ? [] : [inside('armBack', 'deg', dial, 0)]),
    inside('takeOut', 'mm', 0, LIFT_MM),
  ]
  if (takenOut === null) return ofStep
  const out = before?.find(c => c.motion === 'takeOut') ?? null
  // One height for all that is done outside: nothing jumps from one motion to the next, or reaches into the bender.
  const lift = Math.max(
    out?.to ?? 0,
    ...ofStep.map(m => (m.motion === 'putIn' ? m.from : 0)),
    OUTSIDE_MM + sideways(tubeAtDie(layout, stock, i, 'turn', 0).pieces),
  )
  const outside = (motion: OutsideMotion, unit: 'mm' | 'deg', to: number): Shown => ({
    motion,
    name: OUTSIDE_NAMES[motion],
    unit,
    from: 0,
    to,
    lift,
    clearance: null,
  })
  const first = outside('outBefore', 'mm', lift)
  return [
    { ...first, name: `${first.name}, bend ${atDie[i - 1]!.bend}`, clearance: out },
    ...(turnedEndForEnd ? [outside('endForEnd', 'deg', 180)] : []),
    ...(turns ? [outside('turnOutside', 'deg', turn)] : []),
    ...ofStep.map(m => (m.motion === 'putIn' ? { ...m, from: lift, lift } : m)),
  ]
}

/** Which of a step's motions a screen is about. */
export function motionOn(screen: Screen, motions: readonly Shown[]): number {
  const wanted: readonly TubeMotion[] =
    screen.kind === 'around'
      ? ['endForEnd']
      : screen.kind === 'turn'
        ? ['turn', 'turnOutside']
        : screen.kind === 'bend' || screen.kind === 'short'
          ? ['bend']
          : ['slide', 'putIn']
  return Math.max(
    0,
    motions.findIndex(m => wanted.includes(m.motion)),
  )
}

/** The farthest that a tube lying along the bender's axis sticks out from it, mm. */
const sideways = (pieces: readonly Piece[]): number =>
  Math.max(0, ...pieces.flatMap(p => [p.start, p.end]).map(p => Math.hypot(p[1], p[2])))
