import { type StraightNeed, straightNeeds } from '../../checks/needs.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { SolvedRun } from '../../solve/types.ts'

/** What one straight needs, boiled down to what a row or a drawing shows. */
export interface NeededStraight {
  /** The most that is asked for in any order of bending, mm, ≥ 0; null when it is not known, and `why` says so. */
  readonly length: number | null
  readonly why: string
  /** Which end of the straight the strictest need is measured from. */
  readonly from: 'start' | 'end'
  /** All needs, in words with their figures left to the caller. */
  readonly all: readonly StraightNeed[]
}

/** What each straight of a solved run needs, end A first. */
export function neededStraights(document: SkidDocument, run: Run, solved: SolvedRun): NeededStraight[] {
  const needs = straightNeeds(document, run, solved)
  const last = needs.length - 1
  const bender = run.bender !== null
  return needs.map((all, i) => {
    const always = all.filter(n => !n.someOrdersOnly)
    const strictest = always.reduce<StraightNeed | null>(
      (best, n) => (best === null || n.need > best.need ? n : best),
      null,
    )
    if (strictest) return { length: strictest.need, why: strictest.name, from: strictest.from, all }
    const inner = last > 0 && i > 0 && i < last
    return inner
      ? {
          length: null,
          why: bender ? 'the bender has no tooling for this tube' : 'no bender chosen',
          from: 'start',
          all,
        }
      : { length: 0, why: '', from: i === 0 ? 'start' : 'end', all }
  })
}
