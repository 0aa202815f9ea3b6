import type { OrderedBend } from '../solve/bendOrder.ts'
import type { BenchSetup } from './housing.ts'
import { slidesOn } from './slidesOn.ts'

/** What the operator has to do with the tube between bends, beyond sliding it on and turning it. */
export interface Handling {
  /** Times the tube is turned end for end. */
  readonly turnarounds: number
  /** Times it is taken out and put in anew, because a made bend, the other end or the bender itself asks for it. */
  readonly takenOut: number
  /** Times the next mark lies back along the tube, towards the end that leads. */
  readonly stepsBack: number
}

export const NO_HANDLING: Handling = { turnarounds: 0, takenOut: 0, stepsBack: 0 }

/** What one step asks for after the one before; none on the first. */
export function handlingOfStep(
  setup: Pick<BenchSetup, 'kind' | 'tubeOutFirst'>,
  before: OrderedBend | null,
  next: OrderedBend,
  made: (bend: number) => boolean,
): Handling {
  if (before === null) return NO_HANDLING
  const swung = before.lead !== next.lead
  const back = !swung && (next.lead === 'A' ? next.bend < before.bend : next.bend > before.bend)
  return {
    turnarounds: swung ? 1 : 0,
    takenOut: slidesOn(setup, { bend: next.bend, lead: next.lead, before, made }) ? 0 : 1,
    stepsBack: back ? 1 : 0,
  }
}

export function handlingOf(
  setup: Pick<BenchSetup, 'kind' | 'tubeOutFirst'>,
  order: readonly OrderedBend[],
): Handling {
  const done = new Set<number>()
  return order.reduce<Handling>((sum, next, i) => {
    const more = handlingOfStep(setup, order[i - 1] ?? null, next, b => done.has(b))
    done.add(next.bend)
    return {
      turnarounds: sum.turnarounds + more.turnarounds,
      takenOut: sum.takenOut + more.takenOut,
      stepsBack: sum.stepsBack + more.stepsBack,
    }
  }, NO_HANDLING)
}

/** More than any order has steps. */
const WEIGHT = 10_000

/**
 * Handling as one figure: less is less work. A swing end for end counts more than any number of takings-out, a
 * taking-out more than any number of steps back: a long tube is swung by two people, lifted out and in by one, and
 * slid back without letting go of it.
 */
export const handlingRank = ({ turnarounds, takenOut, stepsBack }: Handling): number =>
  (turnarounds * WEIGHT + takenOut) * WEIGHT + stepsBack

/** "turned end for end once, taken out twice, back along the tube once", or that there is nothing to do but to slide and rotate. */
export function handlingWords({ turnarounds, takenOut, stepsBack }: Handling): string {
  const times = (n: number) => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`)
  const said = [
    ...(turnarounds > 0 ? [`turned end for end ${times(turnarounds)}`] : []),
    ...(takenOut > 0 ? [`taken out ${times(takenOut)}`] : []),
    ...(stepsBack > 0 ? [`back along the tube ${times(stepsBack)}`] : []),
  ]
  return said.length > 0 ? said.join(', ') : 'only slide and rotate the tube between bends'
}
