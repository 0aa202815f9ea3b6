import type { BenchReport, ReportedRun, ReportedStep } from '../bender/benchCommand.ts'
import { CAUTIONS } from '../bender/cautions.ts'
import { handlingWords } from '../bender/handling.ts'
import { KINDS } from '../bender/kinds/benderKinds.ts'
import type { MotionName } from '../bender/motionPlan.ts'
import { type Decided, isOpen } from '../checks/decisions.ts'
import { formatAngle, formatLength } from '../document/quantity.ts'
import { type ReleaseState, stateLine } from './releaseState.ts'
import { findingMessage, findingWord } from './solveReport.ts'
import { handling, onPartFrom, trimOff } from './stepWords.ts'

/** What the checks say of a run made in the order that is listed. */
export interface BenchedRun {
  readonly release: ReleaseState
  /** Everything found about the run, of the bender's findings those of this order; worst first. */
  readonly decided: readonly Decided[]
  /** What else its figures call for. */
  readonly cautions: readonly string[]
}

/**
 * Why a run should not be made as listed, one sentence each, mm: what cannot exist, then every error that nobody has
 * accepted. That a leg is too short for its bends stands among both, and is said once.
 */
export const errorsOf = (run: Pick<ReportedRun, 'errors'>, decided: readonly Decided[]): string[] => [
  ...run.errors,
  ...decided.filter(isError).map(findingMessage),
]

const isError = (d: Decided): boolean =>
  d.finding.severity === 'error' && isOpen(d) && d.finding.rule !== 'legOverrun'

/**
 * The bench report as a list of steps to follow, mm to 0.1 and degrees to 0.1; what is wrong comes first, what else was
 * found after the steps, the usual cautions last.
 */
export function benchText(report: BenchReport, of: (run: ReportedRun) => BenchedRun): string {
  const runs = report.runs.map(run =>
    'problem' in run ? `${run.tag}: ${run.problem}` : runText(run, of(run)),
  )
  return `${runs.join('\n\n')}\n\nCAUTION\n${CAUTIONS.map(line => `  ${line}`).join('\n')}\n`
}

function runText(run: ReportedRun, { release, decided, cautions }: BenchedRun): string {
  const head = [
    `${run.tag}  on ${run.bender} (${run.hand}-hand, ${KINDS[run.kind].words}), tooling ${run.tooling}, CLR ${mm(run.clr)}`,
    `  cut ${mm(run.cutLength)} mm, end ${run.lead} leads; start and mark in mm on the straight stock, from the end shown`,
  ]
  head.push(...searchText(run))
  head.push(`  ${stateLine(release)}`)
  if (run.blocked !== null) head.push(`  BLOCKED: ${run.blocked}`)
  const others = decided.filter(d => !isError(d) && !(d.finding.rule === 'legOverrun' && isOpen(d)))
  return [
    ...head,
    ...errorsOf(run, decided).map(e => `  ERROR: ${e}`),
    columns([
      ['step', 'bend', 'start', 'mark', 'mark on the part', 'rotation', 'finished', 'dial', 'clears by'],
      ...run.steps.map(stepRow),
    ]),
    ...run.steps.flatMap(outBefore),
    ...(run.trimEnd === null ? [] : [`  ${trimOff(`${mm(run.trim)} mm`, run.trimEnd)}`]),
    `  clearance leaves out ${run.leftOut}`,
    ...(run.tubeOutFirst ? ['  after each bend, remove the tube before returning the arm'] : []),
    ...others.map(d => `  ${findingWord(d)}: ${findingMessage(d)}`),
    ...run.warnings.map(w => `  note: ${w}`),
    ...cautions.map(c => `  note: ${c}`),
  ].join('\n')
}

/** What the search for an order came to, and what the clearest one costs in handling. */
function searchText(run: ReportedRun): string[] {
  if (run.bestOfAll === null) return []
  const of = run.bestOfAll ? 'all orders' : 'the orders tried (not all)'
  const why =
    run.marginReached === null && run.blocked === null
      ? `least handling of ${of} that can be held; clearance is not checked`
      : run.marginReached
        ? `least handling of ${of} that clear by ${mm(run.margin)}`
        : run.blocked === null
          ? `clearest of ${of}; none clears by ${mm(run.margin)}`
          : `clearest of ${of}`
  const chosen = `  order ${run.order}: ${why}; ${handlingWords(run.handling)}`
  const { clearest } = run
  if (clearest === null || clearest.order === run.order || clearest.atLeast === null) return [chosen]
  return [
    chosen,
    `  clearest is ${clearest.order}, by ${mm(clearest.atLeast)}: ${handlingWords(clearest.handling)}`,
  ]
}

const mm = (value: number) => formatLength(value, 'mm', { digits: 1 })
const fixed = (value: number) => formatAngle(value, 1, true)

function stepRow(step: ReportedStep, i: number): string[] {
  return [
    `${i + 1}`,
    `${step.bend + 1}${step.turnedAround ? ` (end for end, ${step.lead} leads)` : ''}`,
    fixed(step.start),
    `${fixed(step.mark)} ${step.markEnd}`,
    step.onPart === null
      ? 'not on straight tube'
      : `${fixed(step.onPart.distance)} ${onPartFrom(step.onPart)}`,
    turnText(step.turn),
    fixed(step.angle),
    step.dial === null ? 'not known' : fixed(step.dial),
    clearanceText(step),
  ]
}

/** How the tube is handled before a step for which it does not stay in. */
const outBefore = (step: ReportedStep, index: number): string[] =>
  step.takenOut === null ? [] : [`  before step ${index + 1}: ${handling({ ...step, index }).join(' ')}`]

/** As seen from the tail looking towards the bender. */
function turnText(turn: number | null): string {
  if (turn === null) return ''
  const size = fixed(Math.min(180, Math.abs(turn)))
  return Number(size) === 0 ? 'none' : `${size} ${turn > 0 ? 'clockwise' : 'counter-clockwise'}`
}

const MOTIONS: Readonly<Record<MotionName, string>> = {
  putIn: 'put in',
  slide: 'slide',
  turn: 'rotate',
  bend: 'bend',
  armBack: 'arm back',
  takeOut: 'take out',
}

function clearanceText({ clearance }: ReportedStep): string {
  if (!clearance) return 'not checked'
  const { atLeast, depth, motion, at, unit, solid } = clearance
  const where = `${MOTIONS[motion]} at ${fixed(at)}${unit === 'deg' ? '°' : ' mm'}, ${solid}`
  return depth === null ? `${mm(atLeast)} (${where})` : `HITS by ${mm(depth)} (${where})`
}

function columns(rows: readonly (readonly string[])[]): string {
  const last = rows[0]!.length - 1
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map(r => r[c]!.length)))
  const cell = (text: string, c: number) => (c === last ? text : text.padStart(widths[c]!))
  return rows.map(r => `  ${r.map(cell).join('  ')}`.trimEnd()).join('\n')
}
