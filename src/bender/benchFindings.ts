import { type Length, mm, type Sentence, say, told } from '../document/sentence.ts'
import type { Finding } from '../findings/finding.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { MotionClearance, StepClearance } from './clearStep.ts'
import type { HoldProblem } from './housing.ts'
import type { MotionName } from './motionPlan.ts'
import { orderMark } from './orderMark.ts'

/** Less than this prints as 0.0 mm. */
const SEEN_MM = 0.05

const DOING: Readonly<Record<MotionName, string>> = {
  putIn: 'putting the tube in for',
  slide: 'sliding to the mark of',
  turn: 'rotating for',
  bend: 'making',
  armBack: 'while the arm returns after',
  takeOut: 'lifting the tube out after',
}
/** To 0.1 mm: what a bender gives way by is more. */
export const atBench = (mm: number, ...beside: readonly number[]): Length => ({
  mm,
  beside,
  digits: 1,
  fixed: true,
})

/** No minus before a nought. */
const degrees = (at: number): string => (Math.abs(at) < 0.05 ? 0 : at).toFixed(1)

const WHERE: Readonly<Record<MotionName, (at: number) => Sentence>> = {
  putIn: at => say`, ${atBench(at)} above the die`,
  slide: at => say`, ${atBench(at)} along`,
  turn: at => say` after ${degrees(at)}° of rotation`,
  bend: at => say` at ${at.toFixed(1)}°`,
  armBack: at => say`, with the arm at ${at.toFixed(1)}°`,
  takeOut: at => say`, ${atBench(at)} above the die`,
}

/** Where a motion comes nearest, in words: "making bend 2 at 74.2°". Bends are counted from end A, from 1. */
function motionWords(motion: MotionClearance, bend: number): Sentence {
  const at = motion.at === null ? '' : WHERE[motion.motion](motion.at)
  return say`${DOING[motion.motion]} bend ${String(bend + 1)}${at}`
}

/**
 * A finding for every motion in which the tube touches the bender, or one that says that the housing is not
 * checked. Measured is the clearance, mm, negative by the depth of contact; the limit is 0.
 */
export function benchFindings(run: SolvedRun, steps: readonly StepClearance[]): Finding[] {
  const checked = steps.some(s => s.worst !== null || s.motions.some(m => m.unknown !== null))
  if (steps.length > 0 && !checked) return [housingNotChecked(run, 'the bender has no solids')]
  const { of, id } = inOrder(run, steps)
  return steps.flatMap(({ step, motions, outInstead }) =>
    motions.flatMap((m): Finding[] => {
      const vertex = run.route?.bends[step.bend]?.vertexId ?? `${step.bend}`
      if (m.unknown !== null)
        return [
          {
            ...housingNotChecked(run, say`${motionWords(m, step.bend)}, ${m.unknown}`),
            id: id('housingNotChecked', vertex, m.motion),
            where: { run: run.runId, kind: 'motion', index: step.bend },
            ...of,
          },
        ]
      if (m.depth === null || m.solid === null || m.part === null) return []
      return [
        {
          id: id('housingClash', vertex, m.motion, m.solid),
          rule: 'housingClash',
          severity: 'error',
          where: { run: run.runId, kind: 'motion', index: step.bend, other: m.solid },
          measured: 0 - m.depth,
          limit: 0,
          unit: 'mm',
          ...of,
          ...told(
            say`${motionWords(m, step.bend)}, ${m.part.kind} ${String(m.part.index + 1)} ${
              m.depth < SEEN_MM ? 'touches' : say`runs ${atBench(m.depth)} into`
            } the ${m.solid}${m.motion === 'armBack' ? wayOut(outInstead) : ''}`,
          ),
        },
      ]
    }),
  )
}

/**
 * What findings of an order have in common. All bends from end A is the order that goes without saying; in any other
 * the ids end in it, because whoever accepts a finding does so for the order in which it was looked at.
 */
function inOrder(
  run: SolvedRun,
  steps: readonly StepClearance[],
): {
  readonly of: { readonly order?: readonly OrderedBend[] }
  id(rule: string, ...parts: readonly string[]): string
} {
  const order = steps.map(({ step }) => step)
  const mark = orderMark(order)
  return {
    of: mark === '' ? {} : { order },
    id: (rule, ...parts) => [rule, run.runId, ...parts, ...(mark === '' ? [] : [mark])].join(':'),
  }
}

/** What taking the tube out before the arm goes back would do: whether the bender opens so far is its owner's to say. */
function wayOut(lift: MotionClearance | null): Sentence {
  if (lift === null || lift.atLeast === null) return say``
  return lift.depth === null
    ? say`; removed before the arm returns, if this bender opens far enough, the tube clears the bender by ${atBench(lift.atLeast)}`
    : say`; removed before the arm returns, the tube would touch the ${lift.solid ?? 'bender'}`
}

/** Why a bend cannot be set up: "bend 2 cannot be held: the clamp grips 30 mm of straight, there is 28.9 mm". */
export function holdSentence({ bend, lead }: OrderedBend, { need, measured, limit }: HoldProblem): Sentence {
  const name = `bend ${bend + 1}`
  if (need === 'mark') {
    const end = limit === 0 ? lead : lead === 'A' ? 'B' : 'A'
    return say`${name} cannot be marked: its mark would lie ${mm(Math.abs(measured - limit))} off end ${end} of the stock`
  }
  const what = need === 'clampGrip' ? 'the clamp grips' : 'the follower needs'
  return say`${name} cannot be held: ${what} ${mm(limit, measured)} of straight, there is ${mm(measured, limit)}`
}

/** Of an order, what no check of its straights says: marks that would lie off the stock. */
export const markFindings = (run: SolvedRun, steps: readonly StepClearance[]): Finding[] =>
  holdFindings(run, steps).filter((_, i) => steps.filter(s => s.hold)[i]?.hold?.need === 'mark')

/** What is wrong with an order that was asked for: bends that cannot be held, and every contact with the bender. */
export const orderFindings = (run: SolvedRun, steps: readonly StepClearance[]): Finding[] => [
  ...holdFindings(run, steps),
  ...benchFindings(run, steps),
]

/** A finding for every bend of an order that cannot be held: by how much the straight is too short. */
export function holdFindings(run: SolvedRun, steps: readonly StepClearance[]): Finding[] {
  const { of, id } = inOrder(run, steps)
  return steps.flatMap(({ step, hold }): Finding[] => {
    if (!hold) return []
    return [
      {
        id: id('housingHold', run.route?.bends[step.bend]?.vertexId ?? `${step.bend}`),
        rule: 'housingHold',
        severity: 'error',
        where: { run: run.runId, kind: 'motion', index: step.bend },
        measured: hold.measured,
        limit: hold.limit,
        unit: 'mm',
        ...of,
        ...told(say`in this order ${holdSentence(step, hold)}`),
      },
    ]
  })
}

/** The finding for a run whose motions could not be looked at, and why. */
export const housingNotChecked = (run: Pick<SolvedRun, 'runId'>, why: Sentence | string): Finding => ({
  id: `housingNotChecked:${run.runId}`,
  rule: 'housingNotChecked',
  severity: 'notChecked',
  where: { run: run.runId, kind: 'run', index: null },
  measured: null,
  limit: null,
  unit: '',
  ...told(say`clearance from the bender is not checked: ${why}`),
})
