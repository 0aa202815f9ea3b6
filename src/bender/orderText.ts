import type { OrderedBend } from '../solve/bendOrder.ts'
import { orderFrom, sameSequence } from './layOut.ts'

/** How the way of a half turn is written after its bend: clockwise is not, or CW. */
const COUNTER = 'CCW'

/** An order as one would write it down: "A 1 2 3" or, mixed, "1A 4B 2A"; "2 CCW": its half turn is counter-clockwise. */
export function orderWords(order: readonly OrderedBend[]): string {
  const lead = order[0]?.lead ?? 'A'
  const same = order.every(o => o.lead === lead)
  const words = order.map(
    o => `${o.bend + 1}${same ? '' : o.lead}${o.way === 'counter-clockwise' ? ` ${COUNTER}` : ''}`,
  )
  return `${same ? `${lead} ` : ''}${words.join(' ')}`
}

/** "with end B leading", or "in the order 2A, 1A, 3B, each bend with the end that leads,", with the half turns that go counter-clockwise. */
export function orderClause(order: readonly OrderedBend[]): string {
  const lead = order[0]?.lead ?? 'A'
  const mixed = order.some(o => o.lead !== lead)
  const steps = order.map(o => `${o.bend + 1}${mixed ? o.lead : ''}`).join(', ')
  const counter = order.filter(o => o.way === 'counter-clockwise').map(o => o.bend + 1)
  const ways =
    counter.length === 0
      ? ''
      : `with the half turn${counter.length > 1 ? 's' : ''} before bend ${counter.join(' and bend ')} counter-clockwise`
  const plain = sameSequence(order, orderFrom(lead, order.length))
  if (plain && lead === 'A' && ways !== '') return ways
  const words = plain
    ? `with end ${lead} leading`
    : `in the order ${steps}, ${mixed ? 'each bend with the end that leads' : `end ${lead} leading for all`}`
  return plain && ways === '' ? words : `${[words, ways].filter(Boolean).join(', ')},`
}

/**
 * Reads an order written like "1A 4B 2A" or "1 2 3" with a leading end before ("B 3 2 1"); CW or CCW after a bend is
 * the way of its half turn. Gives the order, or why not.
 */
export function readOrder(text: string, count: number): readonly OrderedBend[] | string {
  let lead: 'A' | 'B' = 'A'
  /** An end that stands alone, before the bends that it leads. */
  let alone: string | null = null
  const order: OrderedBend[] = []
  for (const word of text
    .toUpperCase()
    .split(/[\s,;]+/)
    .filter(w => w !== '')) {
    const last = order.at(-1)
    if (word === 'CW' || word === COUNTER) {
      if (last === undefined) return `"${word}" comes before every bend: write it after its bend`
      if (alone !== null) return `"${word}" comes after an end: write it after its bend`
      if (last.way !== undefined)
        return `"${word}" is a second direction for bend ${last.bend + 1}: write one`
      order[order.length - 1] = { ...last, way: word === 'CW' ? 'clockwise' : 'counter-clockwise' }
      continue
    }
    const m = /^(\d*)([AB]?)$/.exec(word)
    if (!m) return `"${word}" is neither a bend number nor an end A or B`
    if (alone !== null && m[2] !== '')
      return `"${alone}" leads no bend: write an end before its bends, or with each bend`
    if (m[2] === 'A' || m[2] === 'B') lead = m[2]
    if (m[1] === '') {
      alone = word
      continue
    }
    alone = null
    const bend = Number(m[1]) - 1
    if (bend < 0 || bend >= count) return `bend ${word} is not there: bends are 1 to ${count}, from end A`
    if (order.some(o => o.bend === bend)) return `bend ${bend + 1} is listed twice`
    order.push({ bend, lead })
  }
  if (alone !== null && count > 0)
    return `"${alone}" leads no bend: write an end before its bends, or with each bend`
  const missing = Array.from({ length: count }, (_, k) => k).filter(k => !order.some(o => o.bend === k))
  if (missing.length === 0) return order
  const names = missing.map(k => String(k + 1))
  const last = names.pop()!
  return names.length === 0 ? `bend ${last} is missing` : `bends ${names.join(', ')} and ${last} are missing`
}
