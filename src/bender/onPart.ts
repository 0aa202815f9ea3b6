import { DEG } from '../geometry/vec3.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { Layout, LayoutStep, Stock } from './layOut.ts'
import { type Outward, sidesOf } from './tubeAtDie.ts'

/** Where a mark is found on the part as it is just before its bend: from an end, or from the back of a made bend. */
export interface OnPart {
  readonly from: `end ${Lead}` | `back of bend ${number}`
  /** Along the straight that is held, mm. */
  readonly distance: number
  /** The bend whose back it is, the leg beyond it, both counted from 1 at end A, and its angle; null from an end. */
  readonly back: { readonly bend: number; readonly leg: number; readonly angle: number } | null
}

/** A bend shallower than this has a back that is hard to hit: another one is taken where there is one. Degrees. */
const SHALLOW_DEG = 30
/** Rounding of a tube's length, mm. */
const SAME_MM = 1e-6

/**
 * How far the back of a bend lies beyond its tangent point, along the straight before it, mm.
 *
 * The back is the outside of the tube. Up to 90° it is the corner that the outsides of the two legs would make: lay a
 * straightedge along the outside of the leg beyond the bend and run the tape along the outside of the straight until it
 * meets the straightedge, (CLR + OD/2)·tan(angle/2) beyond the tangent point. Over 90° the legs' outsides no longer
 * meet there: it is the outermost point of the bend, where a square that stands on the straight touches it, CLR + OD/2.
 * At 90° the two are one.
 *
 * @param radius settled centre-line radius, mm.
 * @param angle settled bend angle, degrees, 0 … 180.
 */
export const backBeyondTangent = (radius: number, angle: number, od: number): number =>
  (radius + od / 2) * Math.tan((Math.min(angle, 90) / 2) * DEG)

/** The straight that is held, on one side of the tangent point. */
interface Held {
  /** mm from the tangent point to the made bend, or to the end. */
  readonly length: number
  /** The made bend it ends at, 0-based from end A; null: it runs to the end. */
  readonly bend: number | null
}

function heldOn(side: readonly Outward[], made: ReadonlySet<number>, from: number): Held {
  let length = from
  for (const item of side) {
    if (item.kind === 'straight') length += item.length
    else if (made.has(item.index)) return { length, bend: item.index }
    else length += item.stock
  }
  return { length, bend: null }
}

/** The straight that is held at step `i`, as it lies on either side of the mark. */
function heldAt(
  layout: Layout,
  stock: Stock,
  i: number,
): { readonly step: LayoutStep; readonly ahead: Held; readonly behind: Held } {
  const step = layout.steps[i]
  if (step === undefined)
    throw new RangeError(`onPart: found step ${i}, wanted 0 … ${layout.steps.length - 1}`)
  const made = new Set(layout.steps.slice(0, i).map(s => s.bend))
  const [front, tail] = sidesOf(layout, stock, step)
  const offset = step.mark - step.start
  return {
    step,
    ahead: heldOn(front, made, offset),
    behind: heldOn(tail, made, step.stockUsed - offset),
  }
}

/**
 * From where the nearest made bend ahead ends (its far tangent point), or from the leading end when none is made
 * there, to the mark of step `i`, mm along the straight.
 *
 * @throws RangeError when the layout has no step `i`.
 */
export const markFromTangentAt = (layout: Layout, stock: Stock, i: number): number =>
  heldAt(layout, stock, i).ahead.length

/**
 * How the mark of step `i` is found on the part as it lies just before that bend. From the end that goes in first where
 * straight tube runs from it to the mark: then it is the mark on the stock. Else from what is nearest along the straight
 * of a made bend's back on either side and the other end; a shallow bend's back only when there is nothing else. Null
 * when the mark does not lie on straight tube: nothing can be measured to it.
 *
 * @throws RangeError when the layout has no step `i`.
 */
export function onPartAt(layout: Layout, stock: Stock, i: number, od: number): OnPart | null {
  const { step, ahead, behind } = heldAt(layout, stock, i)
  if (!(ahead.length >= -SAME_MM && behind.length >= -SAME_MM)) return null
  const other = step.lead === 'A' ? 'B' : 'A'
  if (ahead.bend === null) return { from: `end ${step.lead}`, distance: ahead.length, back: null }
  const backs = [ahead, behind].flatMap(({ length, bend }) => {
    if (bend === null) return []
    const angle = layout.steps.find(s => s.bend === bend)!.angle
    return [{ bend, angle, distance: length + backBeyondTangent(stock.radii[bend]!, angle, od) }]
  })
  const sharp = backs.filter(b => b.angle >= SHALLOW_DEG)
  const best =
    sharp.length > 0
      ? sharp.reduce((a, b) => (b.distance < a.distance ? b : a))
      : backs.reduce((a, b) => (b.angle > a.angle ? b : a))
  if (behind.bend === null && (sharp.length === 0 || behind.length <= best.distance))
    return { from: `end ${other}`, distance: behind.length, back: null }
  const bend = best.bend + 1
  // Towards end A the leg beyond a bend has its number, towards end B one more.
  const leg = best.bend < step.bend ? bend : bend + 1
  return {
    from: `back of bend ${bend}`,
    distance: best.distance,
    back: { bend, leg, angle: best.angle },
  }
}
