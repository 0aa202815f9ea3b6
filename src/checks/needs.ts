import type { Run, SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type RunContext, runContext } from './runContext.ts'

/** One thing a straight must be long enough for. Needs are kept apart: a finding says which one it is. */
export interface StraightNeed {
  /** The rule whose finding speaks of it. */
  readonly rule: 'straightClamp' | 'straightFollower' | 'frontHeld' | 'tailHeld' | 'fittingStraight'
  /** In words, for a label: `clamp grip`, `follower`, `nut at end A`. */
  readonly name: string
  /** What the straight itself (outside the fitting's face) must measure, mm ≥ 0. */
  readonly need: number
  /** Tool or nut length that asks for it, mm. */
  readonly whole: number
  /** Stock beyond the straight that counts towards `whole`: insertion and trim, mm ≥ 0. */
  readonly beyond: number
  /** Which way along the straight it is measured from: its start (nearer A) or its end (nearer B). */
  readonly from: 'start' | 'end'
  /** True when only some orders of bending need it: with a bend already on the tail. */
  readonly someOrdersOnly: boolean
}

/**
 * For each straight, A to B, what it must be long enough for; empty lists when the run has no route. Bending A-first
 * the clamp grips the straight ahead of each bend and the follower holds the tail behind the last one.
 * Without a bender or tooling only the fittings' needs are known.
 */
export function straightNeeds(document: SkidDocument, run: Run, solved: SolvedRun): StraightNeed[][] {
  if (run.id !== solved.runId)
    throw new RangeError(`straightNeeds: run "${run.id}" but solved "${solved.runId}"`)
  return needsOf(runContext(document, solved))
}

export function needsOf(context: RunContext): StraightNeed[][] {
  const { solved, run, tooling, fittingA, fittingB } = context
  const straights = solved.route?.straights ?? []
  const last = straights.length - 1
  const need = (
    rule: StraightNeed['rule'],
    name: string,
    whole: number,
    from: 'start' | 'end',
    beyond = 0,
  ) => ({
    rule,
    name,
    whole,
    beyond,
    need: Math.max(0, whole - beyond),
    from,
    someOrdersOnly: rule === 'straightFollower',
  })
  return straights.map((_, i) => {
    const needs: StraightNeed[] = []
    if (tooling && last > 0) {
      if (i === 0) needs.push(need('frontHeld', 'clamp grip', tooling.clampGrip, 'end', solved.insertionA))
      else if (i < last) {
        needs.push(need('straightClamp', 'clamp grip', tooling.clampGrip, 'end'))
        needs.push(need('straightFollower', 'follower', tooling.followerLength, 'start'))
      } else {
        const beyond = solved.insertionB + run.trimAllowance
        needs.push(need('tailHeld', 'follower', tooling.followerLength, 'start', beyond))
      }
    }
    if (i === 0 && fittingA)
      needs.push(need('fittingStraight', 'nut at end A', fittingA.straightNeeded, 'start'))
    if (i === last && fittingB)
      needs.push(need('fittingStraight', 'nut at end B', fittingB.straightNeeded, 'end'))
    return needs
  })
}
