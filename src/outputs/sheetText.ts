import { largestOfAngles, largestOfTurns } from '../bender/farEnd.ts'
import { type Decided, isOpen } from '../checks/decisions.ts'
import { capital } from '../document/capital.ts'
import { exampleFigures, exampleWords, springbackOrigin } from '../document/exampleFigures.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Sentence } from '../document/sentence.ts'
import type { Bender, SkidDocument, Springback } from '../document/types.ts'
import { isOfBender } from '../findings/rules.ts'
import { overruns } from '../solve/overruns.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, firstLead, noMarksBecause } from './benchLayout.ts'
import { insertionMarkWords } from './insertionMarks.ts'
import { notInFont } from './paperFont.ts'
import { finishedOrThrow, routeOrThrow } from './solidTubes.ts'
import { wayOfTurn } from './turnWords.ts'

/** Figures that the part is measured against; the shop's own, printed as given. A null is one that nobody gave. */
export interface SheetTolerances {
  /** ± mm on straights. */
  readonly length: number | null
  /** ± degrees on bend angles. */
  readonly angle: number | null
  /** ± degrees on turns. */
  readonly turn: number | null
  /** ± mm on the check dimension, end to end. */
  readonly ends: number | null
}
/** For skids of invented figures only: a shop puts its own here. */
export const DEMO_TOLERANCES: SheetTolerances = { length: 1, angle: 0.5, turn: 1, ends: 3 }

/** Contacts with the bender that are named among the cautions. */
const MOST_HITS = 2

/** How the follower is set: by the gap on the bender's record, else by its manual. */
export const followerLine = ({ followerGap }: Bender, length: (mm: number) => string): string =>
  followerGap === undefined
    ? 'Set the follower as the bender’s manual says.'
    : `Set the follower with a gap of ${length(followerGap)} to the clamp.`

/** What to do at the machine before the first bend, in order. */
export function setUp(
  bench: BenchRun,
  solved: SolvedRun,
  length: (mm: number) => string,
  inMm: boolean,
): string[] {
  // A die goes by its own size: a fraction near it is another die's.
  const exact = (mm: number) => (inMm ? `${Number(mm.toFixed(3))} mm` : `${(mm / 25.4).toFixed(3)} in`)
  const { bender, tooling, springback, run } = bench
  const lines = [
    `Cut ${run.quantity === 1 ? 'one piece' : `${run.quantity} pieces`} to ${length(bench.cutLength)}; square, deburr, mark end ${firstLead(bench.layout)}.`,
  ]
  if (bender && tooling) {
    lines.push(
      `${bender.name}: fit die and follower ${tooling.id} (OD ${exact(tooling.od)}, CLR ${exact(tooling.clr)}); clamp grip ${length(tooling.clampGrip)}, follower ${length(tooling.followerLength)}, reference line ${length(Math.abs(tooling.referenceOffset))} ${tooling.referenceOffset >= 0 ? 'behind' : 'ahead of'} the tangent point.`,
    )
    lines.push(followerLine(bender, length))
    if (bender.tubeOutFirst)
      lines.push(
        'After each bend, remove the tube before returning the arm, then reload it. The clearance check assumes this.',
      )
  }
  const why = noMarksBecause(bench)
  lines.push(
    why !== null
      ? `No dial readings on this sheet: ${why}. Make a trial bend first: stop 5° short, measure, correct, go on (common practice, no source).`
      : bender && springback
        ? `The dial figures include springback: ${formatAngle(springback.offset, 2)}° + ${formatAngle(springback.perDegree, 4)} per degree, ${springbackSource(bender, springback)}.`
        : 'Make a trial bend first: stop 5° short, measure, correct, go on (common practice, no source).',
  )
  const marks = insertionMarkWords(finishedOrThrow(solved).faces, bench.layout, length)
  if (marks !== null) lines.push(marks)
  const bends = solved.route?.bends.length ?? 0
  if (bends > 0)
    lines.push(
      `Check the ${bends > 1 ? 'first bend’s angle and direction before making the second' : 'bend’s angle'}; check end to end when finished.`,
    )
  return lines
}

/** Where a springback record is from, as a clause. */
export function springbackSource(bender: Bender, springback: Springback): string {
  const { range } = springback
  switch (springbackOrigin(bender, springback)) {
    case 'example':
      return 'example figures that came with Dogleg, not measured on your bender'
    case 'trials':
      return range
        ? `from trial bends of ${formatAngle(range[0])}° to ${formatAngle(range[1])}°`
        : 'from trial bends'
    case 'typed':
      return 'typed in, with no trial bends of your own on record'
    case 'assumed':
      return 'assumed, not from trial bends'
  }
}

/** What the checks of the bender say of the order of this sheet, as far as it keeps the hands from beginning. */
export function benchCautions(
  decided: readonly Decided[] | null,
  runId: string,
  write: (sentence: Sentence) => string,
): string[] {
  const ofBender = (decided ?? []).filter(({ finding: f }) => f.where.run === runId && isOfBender(f.rule))
  const hits = ofBender.filter(isOpen)
  const lines = hits.slice(0, MOST_HITS).map(d => `In this order: ${write(d.finding.sentence)}.`)
  if (hits.length > MOST_HITS) lines.push(`And ${hits.length - MOST_HITS} more under the open findings.`)
  for (const { finding } of ofBender) {
    if (finding.severity === 'notChecked') lines.push(`${capital(write(finding.sentence))}.`)
    if (finding.rule === 'housingOrder' && finding.severity === 'note')
      lines.push(`Keep to the order of this sheet: the run ${write(finding.sentence)}.`)
  }
  return lines
}

/** What in these figures has spoilt tube before. */
export function cautionsOf(
  document: SkidDocument,
  bench: BenchRun,
  solved: SolvedRun,
  length: (mm: number) => string,
): string[] {
  const route = routeOrThrow(solved)
  const out: string[] = []
  const why = noMarksBecause(bench)
  if (why !== null) out.push(`${capital(why)}: marks and dial readings are not given.`)
  for (const w of bench.layout?.warnings ?? []) out.push(`${capital(w)}.`)
  if (bench.bender && bench.springback) {
    const origin = springbackOrigin(bench.bender, bench.springback)
    if (origin === 'assumed' || origin === 'typed')
      out.push(
        `The springback is ${origin === 'assumed' ? 'assumed' : 'typed in'}: no trial bend confirms it.`,
      )
  }
  out.push(...exampleWords(exampleFigures(document, bench.run)))
  for (const { straight, by } of overruns(route))
    out.push(
      `Straight ${straight + 1} is ${length(by)} too short for its bends: this run cannot be made as drawn.`,
    )
  for (const k of route.passedThrough)
    out.push(`Point ${k + 1} is not a bend: the tube runs straight through it.`)
  if (route.bends.length === 0) return out
  const ways = (bench.layout?.steps.map(s => s.turn) ?? route.bends.map(b => b.rotation)).map(wayOfTurn)
  if (ways.includes(-1) && ways.includes(1)) out.push('Rotations go in both directions: check each one.')
  return out
}

/** Says when a name has letters that the paper's font does not have. */
export const fontCaution = (texts: readonly string[]): string[] => {
  const lost = notInFont(texts.join(' ').replace(/[\r\n\t]/g, ' '))
  return lost.length > 0
    ? [
        `${lost.length} character${lost.length === 1 ? '' : 's'} of the names used here cannot be printed in the font of this paper; each stands as a question mark.`,
      ]
    : []
}

/** The tolerances in figures, and the most that one angle and one rotation at theirs does at an end of this very tube. */
export function toleranceLines(
  given: SheetTolerances | null,
  demo: boolean,
  solved: SolvedRun,
  length: (mm: number) => string,
): string[] {
  const { length: straights, angle, turn, ends } = given ?? (demo ? DEMO_TOLERANCES : NONE_GIVEN)
  const parts = [
    straights === null ? [] : [`straights ±${length(straights)}`],
    angle === null ? [] : [`bend angles ±${formatAngle(angle)}°`],
    turn === null ? [] : [`rotations ±${formatAngle(turn)}°`],
    ends === null ? [] : [`end to end ±${length(ends)}`],
  ].flat()
  if (parts.length === 0) return ['None given on this sheet; shop or order tolerances apply.']
  const whole = `${capital(parts.join(', '))}.${given === null ? ' Invented for the demo: the shop’s own figures go here.' : ''}`
  const [ofAngle, ofTurn] = [
    angle ? largestOfAngles(solved, angle) : null,
    turn ? largestOfTurns(solved, turn) : null,
  ]
  const effects = [
    ...(ofAngle
      ? [
          `${formatAngle(angle!)}° in bend ${ofAngle.bend + 1} moves end ${ofAngle.misses} ${length(ofAngle.by)}`,
        ]
      : []),
    ...(ofTurn
      ? [
          `${formatAngle(turn!)}° in the rotation between bends ${ofTurn.bend} and ${ofTurn.bend + 1} moves end ${ofTurn.misses} ${length(ofTurn.by)}`,
        ]
      : []),
  ]
  return effects.length === 0
    ? [whole]
    : [whole, `Largest effect of one bend at its tolerance, the other end held: ${effects.join('; ')}.`]
}

const NONE_GIVEN: SheetTolerances = { length: null, angle: null, turn: null, ends: null }
