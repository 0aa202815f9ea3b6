import type { BenderKindName } from '../document/benderKinds.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import { KINDS } from './kinds/benderKinds.ts'

/** A bend at its place in an order. */
interface BendInTurn {
  readonly bend: number
  readonly lead: Lead
  /** The bend made just before, or null at the first. */
  readonly before: OrderedBend | null
  readonly made: (bend: number) => boolean
}

/**
 * True when the tube can slide on from the bend before: same end leading, that bend the nearest one ahead, on a kind of
 * bender that leaves it in. It comes out on a bender that lets the tube out before the arm goes back, too.
 */
export function slidesOn(
  { kind, tubeOutFirst }: { readonly kind: BenderKindName; readonly tubeOutFirst?: boolean },
  { before, bend, lead, made }: BendInTurn,
): boolean {
  if (before === null) return true
  if (KINDS[kind].outAfterEachBend !== null || tubeOutFirst) return false
  if (before.lead !== lead) return false
  const step = lead === 'A' ? -1 : 1
  if ((before.bend - bend) * step <= 0) return false
  let k = bend + step
  while (k !== before.bend && !made(k)) k += step
  return k === before.bend
}
