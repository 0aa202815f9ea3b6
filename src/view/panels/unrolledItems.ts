import { fittingOf } from '../../document/lookUp.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { Finding } from '../../findings/finding.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { type Part, samePart } from '../../store/sessionStore.ts'
import { angleKind, lengthKind, lengthUnitWord, type QuantityKind } from '../fields/quantityKind.ts'
import { issuesInWords } from './describePart.ts'
import type { NeededStraight } from './neededStraight.ts'
import { turnInWords } from './rowEdits.ts'
import type { StraightStretch, Unrolled } from './unrolledLayout.ts'
import type { RunInHand } from './useRunInHand.ts'
import { partOf } from './wherePart.ts'

/** One thing along the tube that can be pointed at, walked to and, unless it is an end, changed. */
export interface Item {
  /** `A`, `s0`, `t1` (turn to bend 1), `b1`, …, `B`. */
  readonly key: string
  readonly part: Part
  /** The whole of it in words. */
  readonly says: string
  /** Its middle, mm along the stock. */
  readonly at: number
  readonly field: {
    readonly kind: 'straight' | 'rotation' | 'angle'
    readonly index: number
    readonly name: string
    readonly label: string
    readonly value: number
    readonly quantity: QuantityKind
  } | null
}

/**
 * Everything along the unrolled tube, end A first, in the order in which a finger would meet it.
 *
 * @param open findings that want something done: what they are about says so.
 */
export function itemsAlong(
  inHand: RunInHand,
  route: SolvedRoute,
  drawn: Unrolled,
  needs: readonly NeededStraight[],
  unit: LengthUnit,
  open: readonly Finding[],
): Item[] {
  const ofRun = open.filter(f => f.where.run === inHand.run.id)
  const about = (part: Part) => ofRun.filter(f => samePart(partOf(f, inHand.solved), part))
  const issues = {
    straight: (straight: number) => about({ kind: 'straight', run: inHand.run.id, straight }),
    bend: (k: number) => about({ kind: 'point', run: inHand.run.id, point: route.bends[k]!.vertexId }),
  }
  const { document, run, solved } = inHand
  const length = lengthKind(unit)
  const word = lengthUnitWord(unit)

  const end = (which: 'A' | 'B'): Item => {
    const fitting = fittingOf(document, which === 'A' ? run.endA : run.endB)
    const inside = which === 'A' ? solved.insertionA : solved.insertionB
    return {
      key: which,
      part: { kind: 'point', run: run.id, point: which },
      says: `End ${which}: ${fitting ? `${fitting.name}, ${length.show(inside)} ${word} inside` : 'free'}`,
      at: which === 'A' ? 0 : drawn.end,
      field: null,
    }
  }
  const straightSays = (s: StraightStretch): string => {
    const what = `Straight ${s.index + 1} of ${drawn.straights.length}: ${length.show(s.length)} ${word}${issuesInWords(issues.straight(s.index))}`
    const need = needs[s.index]
    if (s.length < 0) return `${what}, the bends overlap`
    if (!need || need.length === null) return `${what}; what it needs is not known: ${need?.why ?? ''}`
    if (need.length === 0) return what
    const short = s.missing > 0 ? `, ${length.lack(s.missing)} short` : ''
    return `${what}, needs ${length.show(need.length)} for ${need.why}${short}`
  }

  const items: Item[] = [end('A')]
  for (const s of drawn.straights) {
    const number = s.index + 1
    items.push({
      key: `s${s.index}`,
      part: { kind: 'straight', run: run.id, straight: s.index },
      says: straightSays(s),
      at: (s.from + s.to) / 2,
      field: {
        kind: 'straight',
        index: s.index,
        name: `Straight ${number}`,
        label: `Change straight ${number}`,
        value: s.length,
        quantity: length,
      },
    })
    const bend = route.bends[s.index]
    const stretch = drawn.bends[s.index]
    if (!bend || !stretch) continue
    const part: Part = { kind: 'point', run: run.id, point: bend.vertexId }
    const turn = drawn.turns.find(t => t.bend === s.index)
    if (turn)
      items.push({
        key: `t${s.index}`,
        part,
        says: `Rotation from bend ${s.index} to bend ${number}: ${turnInWords(turn.rotation, angleKind.show)}, looking from A to B`,
        at: turn.at,
        field: {
          kind: 'rotation',
          index: s.index,
          name: `Rotation to bend ${number}`,
          label: `Rotation of bend ${number}`,
          value: turn.rotation,
          quantity: angleKind,
        },
      })
    items.push({
      key: `b${s.index}`,
      part,
      says: `Bend ${number} of ${route.bends.length}: ${angleKind.show(bend.angle)}°, arc ${length.show(bend.arcLength)} ${word}${issuesInWords(issues.bend(s.index))}`,
      at: (stretch.from + stretch.to) / 2,
      field: {
        kind: 'angle',
        index: s.index,
        name: `Bend ${number}`,
        label: `Change angle of bend ${number}`,
        value: bend.angle,
        quantity: angleKind,
      },
    })
  }
  items.push(end('B'))
  return items
}
