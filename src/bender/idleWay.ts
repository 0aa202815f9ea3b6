import { formatAngle } from '../document/quantity.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { BenchSetup } from './housing.ts'
import { KINDS } from './kinds/benderKinds.ts'
import { isHalfTurn, SAME_TURN_DEG, turnBetween } from './layOut.ts'
import { slidesOn } from './slidesOn.ts'

/** A way that an order gives where no half turn is made in the bender: it would say nothing of how the tube is bent. */
export interface IdleWay {
  /** Counted from end A, 0-based. */
  readonly bend: number
  /** The way as it is written, and why it means nothing there. */
  readonly found: string
}

/**
 * The first way of an order that means nothing; null when each has its meaning. Only a half turn that the tube makes
 * in the bender has a way: what is put in from above is rotated outside, where both ways come to the same.
 *
 * @param planes of the run's bends, degrees.
 */
export function idleWay(
  order: readonly OrderedBend[],
  planes: readonly number[],
  bender: Pick<BenchSetup, 'kind' | 'tubeOutFirst'>,
): IdleWay | null {
  const done = new Set<number>()
  for (const [i, next] of order.entries()) {
    const { bend, lead, way } = next
    const before = order[i - 1] ?? null
    if (way !== undefined) {
      const written = way === 'clockwise' ? 'CW' : 'CCW'
      const idle = (why: string): IdleWay => ({ bend, found: `${written}, though ${why}` })
      if (before === null) return idle('nothing is rotated before the first bend')
      const turn = turnBetween(planes, before, next)
      if (Math.abs(turn) < SAME_TURN_DEG) return idle('nothing is rotated before this bend')
      if (!isHalfTurn(turn))
        return idle(
          `the rotation before this bend is ${formatAngle(Math.abs(turn), 1, true)}° ${turn > 0 ? 'clockwise' : 'counter-clockwise'}, not a half turn`,
        )
      if (!slidesOn(bender, { bend, lead, before, made: b => done.has(b) }))
        return idle(
          `${whyOut(bender, before, next)} and put in already rotated: either direction is the same`,
        )
    }
    done.add(bend)
  }
  return null
}

/** Where a way has its meaning. */
export const WAY_WANTED = 'CW or CCW only where the tube makes a half turn in the bender'

function whyOut(
  { kind, tubeOutFirst }: Pick<BenchSetup, 'kind' | 'tubeOutFirst'>,
  before: OrderedBend,
  next: OrderedBend,
): string {
  const { outAfterEachBend } = KINDS[kind]
  if (outAfterEachBend !== null) return outAfterEachBend
  if (tubeOutFirst) return 'on this bender the tube is taken out after every bend'
  if (before.lead !== next.lead) return 'the tube is taken out, turned end for end'
  return 'the tube is taken out past a bend made before'
}
