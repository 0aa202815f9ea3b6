import { BenchError } from '../../bender/benchError.ts'
import { type Layout, layOut, orderFrom, type Stock, stockOf } from '../../bender/layOut.ts'
import { type StepAtDie, stepsAtDie } from '../../bender/stepAtDie.ts'
import { benderOf, dieOf, springbackOf, toolingOf } from '../../document/lookUp.ts'
import { inUnit, mm, type Sentence, say } from '../../document/sentence.ts'
import type { Bender, Run, SkidDocument, Springback, Tooling } from '../../document/types.ts'
import { notMeasured } from '../../document/unmeasured.ts'
import type { OrderedBend } from '../../solve/bendOrder.ts'
import { overruns } from '../../solve/overruns.ts'
import { solveRun } from '../../solve/solveRun.ts'
import type { SolvedRun } from '../../solve/types.ts'

/** Everything that the bending view shows of one run: the figures and what they were worked out from. */
export interface Programme {
  readonly run: Run
  readonly solved: SolvedRun
  readonly bender: Bender
  readonly tooling: Tooling
  readonly springback: Springback | null
  readonly stock: Stock
  readonly layout: Layout
  /** Every step as it happens at the die: what words, figures and pictures are made from. */
  readonly atDie: readonly StepAtDie[]
}

export type ProgrammeResult =
  | { readonly ok: true; readonly programme: Programme }
  | {
      readonly ok: false
      readonly missing: 'bender' | 'tooling' | 'route' | 'length' | 'bends'
      /** In mm; `sentence` is the same for any unit. */
      readonly reason: string
      readonly sentence: Sentence
    }

/**
 * The run's bench figures, or what is missing for them and why.
 *
 * @param order the bends as they are to be made, or null for A first.
 * @param springback taken instead of the bender's record, when trials of this tube say better.
 */
export function programmeOf(
  document: SkidDocument,
  run: Run,
  solved: SolvedRun,
  order: readonly OrderedBend[] | null,
  springback: Springback | null = null,
): ProgrammeResult {
  const no = (
    missing: 'bender' | 'tooling' | 'route' | 'length' | 'bends',
    sentence: Sentence,
  ): ProgrammeResult => ({
    ok: false,
    missing,
    reason: inUnit(sentence, 'mm'),
    sentence,
  })
  const { route } = solved
  if (route === null) return no('route', solved.problem?.sentence ?? say`the route could not be solved`)
  if (route.bends.length === 0)
    return no('bends', say`run ${run.tag} is straight: cut it to length, there is nothing to bend`)
  const bender = benderOf(document, run)
  if (bender === null) return no('bender', say`no bender is chosen for run ${run.tag}`)
  const tooling = toolingOf(bender, run)
  const die = dieOf(bender, run)
  if (tooling === null && die !== null)
    return no(
      'tooling',
      say`${notMeasured(bender, die)}; marks and dial readings depend on them. A test bend measures the reference offset`,
    )
  if (tooling === null)
    return no('tooling', say`${bender.name} has no tooling for OD ${mm(run.tube.od)} with CLR ${mm(run.clr)}`)
  const known = springback ?? springbackOf(bender, run)
  // Other springback opens the die's radius otherwise: it is another tube, solved anew.
  const made = springback === null ? solved : solveRun(document, run, springback)
  try {
    const stock = stockOf(made)
    const [overrun] = overruns(stock)
    if (overrun)
      return no(
        'length',
        say`straight ${String(overrun.straight + 1)} is ${mm(overrun.by)} too short for its bends: this tube cannot be made`,
      )
    const layout = layOut(made, tooling, known, {
      hand: bender.hand,
      kind: bender.kind,
      tubeOutFirst: bender.tubeOutFirst ?? false,
      order: order ?? orderFrom('A', route.bends.length),
    })
    const atDie = stepsAtDie(layout, stock, run.tube.od)
    return {
      ok: true,
      programme: { run, solved: made, bender, tooling, springback: known, stock, layout, atDie },
    }
  } catch (error) {
    if (error instanceof BenchError) return no('route', say`${error.message}`)
    throw error
  }
}

/** The figures a fabricator follows, kept beside the progress so that a later change is noticed. */
export interface FollowedFigures {
  readonly cutLength: number
  readonly bender: string
  readonly steps: readonly {
    readonly bend: number
    readonly lead: 'A' | 'B'
    /** Start of bend; of a piece begun before it was kept the mark stands for it. */
    readonly start?: number
    readonly mark: number
    readonly turn: number | null
    readonly angle: number
  }[]
}

export const followedFigures = ({ layout, bender }: Programme): FollowedFigures => ({
  cutLength: layout.cutLength,
  bender: bender.id,
  steps: layout.steps.map(({ bend, lead, start, mark, turn, angle }) => ({
    bend,
    lead,
    start,
    mark,
    turn,
    angle,
  })),
})

/** Below these a figure reads the same on any bench: mm and degrees. */
const SAME_MM = 0.005
const SAME_DEG = 0.005

/** What is no longer as it was, one plain sentence each; empty when nothing changed. */
export function whatChanged(
  before: FollowedFigures,
  now: FollowedFigures,
  length: (mm: number) => string = mm => `${round(mm)} mm`,
): string[] {
  const said: string[] = []
  if (before.bender !== now.bender) said.push('another bender is chosen')
  if (Math.abs(before.cutLength - now.cutLength) > SAME_MM)
    said.push(`cut length was ${length(before.cutLength)}, is now ${length(now.cutLength)}`)
  if (before.steps.length !== now.steps.length)
    return [...said, `bends: were ${before.steps.length}, now ${now.steps.length}`]
  if (before.steps.some((s, i) => s.bend !== now.steps[i]!.bend || s.lead !== now.steps[i]!.lead))
    return [...said, 'the order of the bends changed']
  before.steps.forEach((was, i) => {
    const is = now.steps[i]!
    const name = `bend ${is.bend + 1}`
    if (Math.abs(was.mark - is.mark) > SAME_MM)
      said.push(`${name}: mark was ${length(was.mark)}, is now ${length(is.mark)}`)
    if (Math.abs((was.turn ?? 0) - (is.turn ?? 0)) > SAME_DEG)
      said.push(`${name}: rotation was ${round(was.turn ?? 0)}°, is now ${round(is.turn ?? 0)}°`)
    if (Math.abs(was.angle - is.angle) > SAME_DEG)
      said.push(`${name}: angle was ${round(was.angle)}°, is now ${round(is.angle)}°`)
  })
  return said
}

const round = (value: number): string => String(Number(value.toFixed(2)))
