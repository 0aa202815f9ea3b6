import type { OrderedBend } from '../solve/bendOrder.ts'
import { orderFrom, sameOrder } from './layOut.ts'

/**
 * An order of bends in a code or an id: '' from end A, 'B' from end B, both with every half turn clockwise; else each
 * bend with the end that leads, and C where its half turn goes counter-clockwise, as in '2B1A3AC'.
 */
export function orderMark(order: readonly OrderedBend[]): string {
  const lead = order[0]?.lead ?? 'A'
  if (sameOrder(order, orderFrom(lead, order.length))) return lead === 'A' ? '' : 'B'
  return order.map(o => `${o.bend + 1}${o.lead}${o.way === 'counter-clockwise' ? 'C' : ''}`).join('')
}

/** What {@link orderMark} writes, and nothing else. */
export const isOrderMark = (mark: string): boolean => /^(B|(\d+[AB]C?)*)$/.test(mark)

/** Reads what {@link orderMark} wrote, for a run of so many bends; null when it is no order of them. */
export function readOrderMark(mark: string, bends: number): readonly OrderedBend[] | null {
  if (!isOrderMark(mark)) return null
  if (mark === '' || mark === 'B') return orderFrom(mark === 'B' ? 'B' : 'A', bends)
  const order = [...mark.matchAll(/(\d+)([AB])(C?)/g)].map(
    (m): OrderedBend => ({
      bend: Number(m[1]) - 1,
      lead: m[2] === 'B' ? 'B' : 'A',
      ...(m[3] === 'C' ? { way: 'counter-clockwise' } : {}),
    }),
  )
  const all = new Set(order.map(o => o.bend))
  const fits = order.length === bends && all.size === bends && order.every(o => o.bend >= 0 && o.bend < bends)
  return fits ? order : null
}
