import { add, DEG, turnAbout, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import { type BenchSetup, type BenchState, bendAtDie, dieAxis, lift, type Sides, usedIn } from './housing.ts'
import { armSense, KINDS } from './kinds/benderKinds.ts'
import type { Motion } from './motion.ts'
import type { MotionPlan } from './motionPlan.ts'
import { cutAt, moved, type TubeSide } from './tubeState.ts'

/** The tube with the bend made and sprung back, still lying in the bender: the bend itself is in neither side. */
interface Made extends Sides {
  readonly bend: Sides['tail']
}

const UP: Vec3 = [0, 0, 1]

/**
 * What follows a bend until the tube is out. The load is let off and the tube springs back, clamp and follower are
 * opened, the arm goes back to its start past the tube that still lies in the die, and the tube is lifted out (or
 * slides on; the lift is certified for every bend). On a bender that lets the tube out first the tube is lifted
 * past the arm where the spring-back left it, and the arm then goes back empty. Nothing is held in any of it, so that
 * the whole tube counts. Common practice, no source.
 */
export function afterBend(
  setup: BenchSetup,
  state: BenchState,
  before: { readonly front: TubeSide; readonly tail: TubeSide },
): MotionPlan[] {
  const made = bent(setup, state, before)
  const out = takingOut(setup, state, made)
  return setup.tubeOutFirst ? [out] : [armGoingBack(setup, state, made), out]
}

/**
 * The arm from where the bend ended back to 0 past the standing tube, bent to its wanted angle. Only the arm moves, so
 * only its solids count: from the housing the tube stays as far as the bend left it. `at` is where the arm stands,
 * degrees as the bend reads them. While it springs back the side that the arm drove (the front of a drawn tube, the
 * tail of a wrapped one) and the bend stay with the arm as they lay when the bend ended, which the bend's own sweep has
 * looked at: from the wanted angle on the arm leaves them. The other side stands all the way.
 */
function armGoingBack(setup: BenchSetup, state: BenchState, { front, tail, bend }: Made): MotionPlan {
  const commanded = setup.commanded[state.bend]!
  const wanted = setup.wanted[state.bend]!
  const origin = dieAxis(setup)
  // Seen from the arm the tube turns the other way.
  const axis: Vec3 = [0, 0, -armSense(setup)]
  const past = { solids: setup.solids.arm, reads: { plus: 0, per: 1 / DEG } }
  const from = (arm: number): Motion => ({ kind: 'turn', origin, axis, from: 0, to: arm * DEG })
  const left = from(Math.min(wanted, commanded))
  const standing = from(commanded)
  const takesFront = KINDS[setup.kind].armTakes === 'front'
  return {
    motion: 'armBack',
    unit: 'deg',
    from: commanded,
    to: 0,
    jobs: [
      { ...past, side: 'front', outward: true, parts: front, motion: takesFront ? left : standing },
      { ...past, side: 'tail', outward: true, parts: tail, motion: takesFront ? standing : left },
      { ...past, side: 'tail', outward: false, parts: bend, motion: left },
    ],
  }
}

/** The bend sprung back, clamp and follower open: the tube is lifted along the die's axis. */
function takingOut(setup: BenchSetup, state: BenchState, { front, tail, bend }: Made): MotionPlan {
  const armAt = setup.tubeOutFirst ? armSense(setup) * setup.wanted[state.bend]! : 0
  return lift('takeOut', setup, { front, tail, bend }, armAt)
}

function bent(
  setup: BenchSetup,
  { bend }: BenchState,
  { front, tail }: { readonly front: TubeSide; readonly tail: TubeSide },
): Made {
  const sense = setup.hand === 'left' ? 1 : -1
  const radius = setup.stock.radii[bend]!
  const centre: Vec3 = [0, sense * radius, 0]
  const angle = sense * setup.wanted[bend]! * DEG
  const used = usedIn(setup, bend)
  const fed = (p: Vec3): Vec3 => add(p, [used, 0, 0])
  const same = (v: Vec3) => v
  const turned = (by: number) => (p: Vec3) => turnAbout(p, centre, UP, by)
  const turnedWay = (by: number) => (d: Vec3) => turnDirection(d, UP, by)
  const behind = cutAt(tail.parts, used).far
  const lies = (heading: Vec3) => bendAtDie(setup, bend, heading, radius, setup.wanted[bend]!)
  return KINDS[setup.kind].armTakes === 'front'
    ? {
        front: moved(front.parts, turned(angle), turnedWay(angle)),
        tail: moved(behind, fed, same),
        bend: lies([1, 0, 0]),
      }
    : {
        front: front.parts,
        tail: moved(behind, p => turned(-angle)(fed(p)), turnedWay(-angle)),
        bend: lies([-1, 0, 0]),
      }
}
