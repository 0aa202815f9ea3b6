import { dieOf, springbackOf, toolingOf } from '../document/lookUp.ts'
import type { Bender, Run, SkidDocument, Springback, Tooling } from '../document/types.ts'
import { unmeasuredWords } from '../document/unmeasured.ts'
import type { Finding } from '../findings/finding.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import { overruns } from '../solve/overruns.ts'
import { solveRun } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BenchError } from './benchError.ts'
import { orderFindings } from './benchFindings.ts'
import type { MotionClearance, StepClearance } from './clearStep.ts'
import type { Handling } from './handling.ts'
import { type BenchSetup, benchSetup } from './housing.ts'
import { idleWay, WAY_WANTED } from './idleWay.ts'
import { KINDS } from './kinds/benderKinds.ts'
import { layOut, orderFrom, routeOf, stockOf } from './layOut.ts'
import type { MotionName } from './motionPlan.ts'
import { markFromTangentAt, type OnPart } from './onPart.ts'
import { judgeOrder, type OrderSearchResult, searchOrder } from './orderSearch.ts'
import { orderWords, readOrder } from './orderText.ts'
import { type LegAtDie, type StepAtDie, stepsAtDie } from './stepAtDie.ts'
import type { PartOfRun } from './tubePart.ts'

export interface BenchOptions {
  /** Tag of the run; every run when left out. */
  readonly run?: string
  /** Which end leads, or the best order found; A when left out. */
  readonly lead?: Lead | 'best'
  /** Instead of `lead`, an order as it is written down ("4A 1A 3B 2A"); only with `run`. */
  readonly order?: string
  /** How far the tube is to stay from the bender in the order proposed, mm; the bender's own when left out. */
  readonly margin?: number
  /** Id of a bender of the document (or of `benders`) instead of the run's own. */
  readonly bender?: string
  /** Further benders to choose from by id, such as the reference table's. */
  readonly benders?: readonly Bender[]
}

/** The worst moment of a step or a motion; `at` in mm (slide, put in, take out) or degrees (turn, bend, arm back). */
export interface ReportedClearance {
  readonly atLeast: number
  readonly motion: MotionName
  readonly at: number
  readonly unit: 'mm' | 'deg'
  readonly part: PartOfRun
  readonly solid: string
  /** Contact depth, mm, or null. */
  readonly depth: number | null
}

export interface ReportedStep {
  /** The end that `mark` is measured from on the straight stock; it goes through the clamp first. */
  readonly markEnd: Lead
  /** How the mark is found on the part as it is at this step; null when it does not lie on straight tube. */
  readonly onPart: Pick<OnPart, 'from' | 'distance'> | null
  /** Where each leg points just before the bend, after the turn: see {@link LegAtDie}. */
  readonly legs: readonly Pick<LegAtDie, 'leg' | 'clock' | 'ahead'>[]
  /** True when the tube is turned end for end before this bend. */
  readonly turnedEndForEnd: boolean
  /** As in {@link StepAtDie}: whether the tube comes out before this bend, whether it is rotated, how far it slides. */
  readonly takenOut: StepAtDie['takenOut']
  readonly turns: boolean
  readonly slide: number | null
  /** Counted from end A, 0-based. */
  readonly bend: number
  /** Route index of its vertex. */
  readonly vertex: number
  readonly lead: Lead
  readonly turnedAround: boolean
  readonly start: number
  readonly mark: number
  readonly markFromPrevious: number | null
  /** From where the nearest made bend ahead ends, or the leading end, to the mark, mm along the straight. */
  readonly markFromTangent: number
  readonly turn: number | null
  readonly angle: number
  readonly dial: number | null
  /** Settled centre-line radius and the length of stock that goes into the bend, mm. */
  readonly radius: number
  readonly stockUsed: number
  /** The worst of `motions`; null when the bender has no solids. */
  readonly clearance: ReportedClearance | null
  /** Every motion that was swept, in the order in which they happen. */
  readonly motions: readonly ReportedClearance[]
  /** Where the arm cannot go back past the tube: taking it out before the arm goes back. Else null. */
  readonly outInstead: ReportedClearance | null
  /** Why the tube cannot be held for this bend, or null. */
  readonly hold: StepClearance['hold']
}

export interface ReportedRun {
  readonly tag: string
  readonly bender: string
  readonly tooling: string
  readonly lead: Lead
  readonly hand: Bender['hand']
  readonly kind: Bender['kind']
  /** True when the bender lets the tube out before the arm goes back: then no swing back is swept. */
  readonly tubeOutFirst: boolean
  readonly cutLength: number
  readonly trim: number
  /** The end that the trim comes off after the last bend; null without a trim. */
  readonly trimEnd: Lead | null
  readonly clr: number
  readonly referenceOffset: number
  /** Every bend with the end that leads, as one would write it down: bends count from 1. */
  readonly order: string
  /** Least clearance over all steps and motions, mm; null when the bender has no solids. */
  readonly atLeast: number | null
  readonly turnarounds: number
  readonly handling: Handling
  /** How far an order that is proposed is to stay from the bender, mm. */
  readonly margin: number
  /** Whether the order proposed does; null when none was searched for. */
  readonly marginReached: boolean | null
  /** The clearest order, with what it costs in handling; null when none was searched for. */
  readonly clearest: {
    readonly order: string
    readonly atLeast: number | null
    readonly handling: Handling
  } | null
  /** True when no order at all is better, false when not all were tried, null when none was searched for. */
  readonly bestOfAll: boolean | null
  readonly blocked: string | null
  readonly leftOut: string
  readonly steps: readonly ReportedStep[]
  /** What the bender's check says of this very order. */
  readonly findings: readonly Finding[]
  /** Why the run cannot be made at all, one sentence each. */
  readonly errors: readonly string[]
  readonly warnings: readonly string[]
}

export interface BenchReport {
  /** A run that cannot be laid out has its `problem` instead; only when no run was asked for by tag. */
  readonly runs: readonly (ReportedRun | { readonly tag: string; readonly problem: string })[]
}

/** A run with the machine, die and springback that it is made with. */
export interface Equipment {
  readonly run: Run
  readonly bender: Bender
  readonly tooling: Tooling
  /** Null when the bender has no figures for this material. */
  readonly springback: Springback | null
  /** The run as this bender makes it. */
  readonly solved: SolvedRun
}

/**
 * Marks, turns, dial readings and certified clearances of the runs asked for; mm and degrees, not rounded.
 * @throws BenchError when the run asked for is unknown, has no route, or has no bender or tooling that fits.
 */
export function benchReport(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  options: BenchOptions = {},
): BenchReport {
  const asked = options.run
  if (asked === undefined)
    return {
      runs: solvedRuns.map(solved => {
        try {
          return reportRun(document, solved, options)
        } catch (error) {
          if (error instanceof BenchError) return { tag: solved.tag, problem: error.message }
          throw error
        }
      }),
    }
  const solved = solvedRuns.find(r => r.tag === asked)
  if (solved === undefined)
    throw new BenchError('run', `"${asked}"`, `one of ${solvedRuns.map(r => `"${r.tag}"`).join(', ')}`)
  return { runs: [reportRun(document, solved, options)] }
}

/** Every bender that `--bender` may name: the document's own, then those of others that have no id of its own. */
export function knownBenders(document: SkidDocument, { benders = [] }: BenchOptions): readonly Bender[] {
  const own = new Set(document.benders.map(b => b.id))
  return [...document.benders, ...benders.filter(b => !own.has(b.id))]
}

/** @throws BenchError when there is no such bender, none is chosen, or it has no tooling for the tube. */
export function equipmentFor(document: SkidDocument, solved: SolvedRun, options: BenchOptions): Equipment {
  const run = document.runs.find(r => r.id === solved.runId)
  if (run === undefined) throw new BenchError(`run ${solved.tag}`, 'no such run', 'a run of the document')
  const known = knownBenders(document, options)
  const id = options.bender ?? run.bender
  if (id === null)
    throw new BenchError(
      `run ${run.tag}: bender`,
      'none chosen',
      `one of ${known.map(b => b.id).join(', ') || 'the benders of the document, which has none'}`,
    )
  const bender = known.find(b => b.id === id)
  if (bender === undefined)
    throw new BenchError(`run ${run.tag}: bender`, `"${id}"`, `one of ${known.map(b => b.id).join(', ')}`)
  const tooling = toolingOf(bender, run)
  const die = dieOf(bender, run)
  if (tooling === null && die !== null)
    throw new BenchError(
      `run ${run.tag}: tooling of ${bender.name}`,
      `${die.id} without its ${unmeasuredWords(die)}`,
      'every figure of it measured',
    )
  if (tooling === null)
    throw new BenchError(
      `run ${run.tag}: tooling of ${bender.name}`,
      `none for OD ${run.tube.od} mm with CLR ${run.clr} mm`,
      `one of ${bender.tooling.map(t => `${t.od}/${t.clr}`).join(', ')} (OD/CLR)`,
    )
  const springback = springbackOf(bender, run)
  const made =
    id === run.bender ? solved : solveRun({ ...document, benders: [bender] }, { ...run, bender: bender.id })
  return { run, bender, tooling, springback, solved: made }
}

function reportRun(document: SkidDocument, asked: SolvedRun, options: BenchOptions): ReportedRun {
  const { run, bender, tooling, springback, solved } = equipmentFor(document, asked, options)
  const route = routeOf(solved)
  const setup = benchSetup(solved, bender, tooling, springback, { trimAt: 'B', margin: options.margin })
  const wanted = options.order === undefined ? (options.lead ?? 'A') : 'A'
  const search = wanted === 'best' ? searchOrder(setup) : null
  const judged = search?.best ?? judgeOrder(setup, orderAsked(run.tag, setup, options), 'clearer')
  const layout = layOut(solved, tooling, springback, {
    hand: bender.hand,
    kind: bender.kind,
    tubeOutFirst: setup.tubeOutFirst,
    order: judged.order,
  })
  const stock = stockOf(solved)
  const atDie = stepsAtDie(layout, stock, run.tube.od)
  return {
    tag: run.tag,
    bender: bender.id,
    tooling: tooling.id,
    lead: judged.order[0]?.lead ?? (wanted === 'B' ? 'B' : 'A'),
    hand: bender.hand,
    kind: bender.kind,
    tubeOutFirst: setup.tubeOutFirst,
    cutLength: layout.cutLength,
    trim: layout.trim,
    trimEnd: layout.trim > 0 ? (judged.order[0]?.lead === 'B' ? 'A' : 'B') : null,
    clr: layout.steps[0]?.radius ?? run.clr,
    referenceOffset: tooling.referenceOffset,
    order: orderWords(judged.order),
    atLeast: judged.atLeast,
    turnarounds: judged.turnarounds,
    handling: judged.handling,
    margin: setup.margin,
    // Without a figure there is none to compare.
    marginReached: search && search.best.atLeast !== null ? search.reached : null,
    clearest: clearestOf(search),
    bestOfAll: search?.exact ?? null,
    blocked: search?.blocked ?? null,
    leftOut: KINDS[bender.kind].held,
    steps: layout.steps.map((step, i) => ({
      bend: step.bend,
      vertex: route.bends[step.bend]?.vertex ?? 0,
      lead: step.lead,
      markEnd: atDie[i]!.markEnd,
      onPart: onPartOf(atDie[i]!.onPart),
      legs: atDie[i]!.legs.map(({ leg, clock, ahead }) => ({ leg, clock, ahead })),
      turnedAround: step.turnedAround,
      turnedEndForEnd: atDie[i]!.turnedEndForEnd,
      takenOut: atDie[i]!.takenOut,
      turns: atDie[i]!.turns,
      slide: atDie[i]!.slide,
      start: step.start,
      mark: step.mark,
      markFromPrevious: step.markFromPrevious,
      markFromTangent: markFromTangentAt(layout, stock, i),
      turn: step.turn,
      angle: step.angle,
      dial: step.dial,
      radius: step.radius,
      stockUsed: step.stockUsed,
      clearance: clearanceOf(judged.steps[i]?.worst),
      motions: (judged.steps[i]?.motions ?? []).flatMap(m => clearanceOf(m) ?? []),
      outInstead: clearanceOf(judged.steps[i]?.outInstead),
      hold: judged.steps[i]?.hold ?? null,
    })),
    findings: orderFindings(solved, judged.steps),
    errors: overruns(route).map(
      ({ straight, by }) =>
        `straight ${straight + 1} is ${by.toFixed(2)} mm too short for its bends: the run cannot be made`,
    ),
    warnings: layout.warnings,
  }
}

/**
 * @throws BenchError when the order is not one of all bends of the run, each once, or says the way of what is no half
 *   turn in the bender.
 */
function orderAsked(tag: string, setup: BenchSetup, { lead, order }: BenchOptions): readonly OrderedBend[] {
  const bends = setup.wanted.length
  if (order === undefined) return orderFrom(lead === 'B' ? 'B' : 'A', bends)
  const read = readOrder(order, bends)
  if (typeof read === 'string')
    throw new BenchError(
      `run ${tag}: order of bends`,
      `"${order}" (${read})`,
      'each bend once, as in "2A 1A 3B"',
    )
  const idle = idleWay(read, setup.stock.planes, setup)
  if (idle === null) return read
  throw new BenchError(`run ${tag}: order of bends, bend ${idle.bend + 1}`, idle.found, WAY_WANTED)
}

const clearestOf = (search: OrderSearchResult | null): ReportedRun['clearest'] =>
  search?.clearest
    ? {
        order: orderWords(search.clearest.order),
        atLeast: search.clearest.atLeast,
        handling: search.clearest.handling,
      }
    : null

const onPartOf = (found: OnPart | null) => found && { from: found.from, distance: found.distance }

function clearanceOf(found: MotionClearance | null | undefined): ReportedClearance | null {
  if (!found || found.atLeast === null || found.at === null || found.part === null || found.solid === null)
    return null
  const { atLeast, motion, at, unit, part, solid, depth } = found
  return { atLeast, motion, at, unit, part, solid, depth }
}
