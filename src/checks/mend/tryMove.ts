import { fittingsById } from '../../document/lookUp.ts'
import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { SAME_GAP } from '../../skid/clearanceFindings.ts'
import { type TubePart, tubePart } from '../../skid/parts.ts'
import { gapTo, type Neighbour } from '../../skid/surroundings.ts'
import { solveRun } from '../../solve/solveRun.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { MEND_REACH } from './gapFinding.ts'
import { faultsOf, firstNear, firstWorse, shortOf } from './harm.ts'
import type { Mend, Miss } from './mendTypes.ts'
import { type Move, shifted, whatMoves } from './moves.ts'
import { bendsChanged } from './rankMends.ts'
import { roundedUp, roundStep } from './roundFigure.ts'

/** To this the least way is found before it is rounded up, mm. */
const EXACT = 0.01
/** How many round figures past the least way are held against the gap, where it does not grow with the way. */
const MORE_ROUND = 4

export interface Side {
  readonly run: Run
  readonly tube: TubePart
  /** What it must get away from, and all else that it must keep away from. */
  readonly target: Neighbour
  readonly others: readonly Neighbour[]
}

export interface Tried {
  readonly mend: Mend | null
  readonly miss: Miss | null
  /** Measurements made. */
  readonly effort: number
}

interface Trial {
  readonly run: Run
  readonly solved: SolvedRun
  readonly tube: TubePart
  /** To the target, mm; infinite when it is as far as asked. */
  readonly gap: number
}

/**
 * Gives the function that tries a move of this run: the least way, rounded up, that brings the gap to what is asked
 * and harms nothing. It walks outwards by what is still missing (a tube cannot gain more than it is moved, nearly),
 * halves the last step, rounds up, measures again, and goes on past whatever else is in the way.
 */
export function moveTrier(document: SkidDocument, side: Side, unit: LengthUnit): (move: Move) => Tried {
  const { run, tube, target, others } = side
  const { required } = target
  const fittings = fittingsById(document.fittings)
  const faults = faultsOf(document, run)
  const short = shortOf(tube, others)
  const before = solveRun(document, run)
  const isEnough = (gap: number) => gap >= required - SAME_GAP
  const gapBefore = gapTo(tube, target, required)?.gap ?? required

  return move => {
    let effort = 0
    let miss: Miss | null = null
    const trial = (by: number): Trial | null => {
      const moved = shifted(document, move, by)
      const solved = solveRun(document, moved)
      const part = tubePart(moved, solved, fittings, undefined)
      if (!('key' in part) || part.kind !== 'run') return null
      effort += target.effort
      const gap = gapTo(part, target, required)?.gap ?? Number.POSITIVE_INFINITY
      return { run: moved, solved, tube: part, gap }
    }
    const missed = (by: number, gap: number, breaks: string): Miss => ({
      tag: run.tag,
      what: whatMoves(move),
      way: move.way,
      by,
      gap,
      required,
      breaks,
    })
    const least = (failing: number, reached: number): number => {
      let [low, high] = [failing, reached]
      while (high - low > EXACT) {
        const middle = (low + high) / 2
        const there = trial(middle)
        if (there && isEnough(there.gap)) high = middle
        else low = middle
      }
      return high
    }

    let failing = 0
    let lacks = required - gapBefore
    /** What stopped the last try was this very gap: then the least way lies between it and the next. */
    let wasShort = true
    for (;;) {
      const by = Math.max(failing + Math.max(lacks, roundStep(failing, unit)), failing * 1.1)
      const there = by > MEND_REACH ? null : trial(by)
      if (!there) break
      if (!isEnough(there.gap)) {
        if (!miss || (miss.breaks === '' && there.gap > miss.gap)) miss = missed(by, there.gap, '')
        failing = by
        lacks = required - there.gap
        wasShort = true
        continue
      }
      let figure = roundedUp(wasShort ? least(failing, by) : by, unit)
      let round = trial(figure)
      for (let k = 0; k < MORE_ROUND && round && !isEnough(round.gap); k++) {
        figure = roundedUp(figure + roundStep(figure, unit) / 2, unit)
        round = trial(figure)
      }
      if (!round || figure > MEND_REACH) break
      failing = figure
      lacks = 0
      wasShort = !isEnough(round.gap)
      if (wasShort) continue
      const worse = firstWorse(faults, faultsOf(document, round.run))
      effort += others.reduce((sum, n) => sum + n.effort, 0)
      const near = worse ? null : firstNear(round.tube, others, short)
      if (!worse && !near) return { mend: mendOf(move, figure, round), miss: null, effort }
      if (!miss?.breaks)
        miss = missed(figure, round.gap, worse ? inUnit(worse.sentence, unit) : nearWords(near!))
      // A bend too small to make grows with the way; a straight too short or a leg off its port does not mend.
      if (worse && worse.rule !== 'smallBend') break
      lacks = near ? near.neighbour.required - near.gap : 0
    }
    return { mend: null, miss, effort }
  }

  function mendOf(move: Move, by: number, { run: moved, solved, tube: part }: Trial): Mend | null {
    const gap = gapTo(part, target, Number.POSITIVE_INFINITY)
    if (!gap || before.cutLength === null || solved.cutLength === null) return null
    const end = run.vertices.length + 1
    return {
      runId: run.id,
      tag: run.tag,
      first: move.first,
      last: move.last,
      what: whatMoves(move),
      way: move.way,
      by,
      direction: move.direction,
      run: moved,
      clearance: gap.gap,
      pointA: gap.pointA,
      pointB: gap.pointB,
      required,
      cutLengthBefore: before.cutLength,
      cutLengthAfter: solved.cutLength,
      bendsChanged: bendsChanged(before.route, solved.route),
      endsMoved: (move.first === 0 ? 1 : 0) + (move.last === end ? 1 : 0),
    }
  }
  function nearWords({ neighbour, gap }: { neighbour: Neighbour; gap: number }): string {
    const show = (mm: number) => formatLength(Math.abs(mm), unit, { withUnit: true })
    if (gap < 0) return `it would overlap ${neighbour.name} by ${show(gap)}`
    return `it would come within ${show(gap)} of ${neighbour.name}, where ${show(neighbour.required)} is required`
  }
}
