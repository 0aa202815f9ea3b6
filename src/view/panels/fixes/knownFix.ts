import { straightNeeds } from '../../../checks/needs.ts'
import { runChecks } from '../../../checks/runChecks.ts'
import { deleteVertex, editRun } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import { formatLength, type LengthUnit } from '../../../document/quantity.ts'
import { inUnit } from '../../../document/sentence.ts'
import type { Run, SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import type { Rule } from '../../../findings/rules.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { lengthenStraight } from './lengthenStraight.ts'
import { ontoPortAxis } from './ontoPortAxis.ts'
import type { Tried } from './shiftPoints.ts'

/** A mend for a finding: done as one step, or known but impossible here, and why. */
export type Fix =
  | { readonly ok: true; readonly label: string; readonly document: SkidDocument }
  | { readonly ok: false; readonly label: string; readonly reason: string }

/** Every group of points is tried, each by solving again: beyond this that would hold up the screen. */
const MOST_VERTICES = 60

/** The fix for a finding in this document, or null when none is known for its rule or the run is too long to try. */
export function knownFix(document: SkidDocument, finding: Finding, unit: LengthUnit): Fix | null {
  const { rule, where, limit } = finding
  const run = runOf(document, where.run ?? '')
  if (!run || run.vertices.length > MOST_VERTICES) return null
  const show = (mm: number) => formatLength(mm, unit, { withUnit: true })
  const straight = straightToLengthen(document, finding)
  if (straight !== null) {
    const missing = missingOn(document, run, straight, finding)
    const label = `Lengthen straight ${straight + 1} by ${show(missing)}`
    return asFix(label, lengthenStraight(document, finding, straight, missing), unit)
  }
  if (rule === 'portAxis') return asFix('Move onto the port’s axis', ontoPortAxis(document, finding), unit)
  if (rule === 'clrNotInTooling' && limit !== null)
    return {
      ok: true,
      label: `Bend at CLR ${show(limit)}`,
      document: editRun(document, run.id, r => ({ ...r, clr: limit })),
    }
  if (rule === 'noBend' && where.index !== null) {
    const vertex = run.vertices[where.index - 1]
    return vertex
      ? {
          ok: true,
          label: `Delete point ${where.index + 1}`,
          document: deleteVertex(document, run.id, vertex.id),
        }
      : null
  }
  return null
}

/** The straight (from 0 at end A) that is too short for what this finding is about; null for any other finding. */
export function straightToLengthen(document: SkidDocument, finding: Finding): number | null {
  const { rule, where, measured, limit, unit } = finding
  if (unit !== 'mm' || measured === null || limit === null || measured >= limit || !LENGTHS.has(rule))
    return null
  if (rule === 'frontHeld') return 0
  if (rule !== 'tailHeld') return where.index ?? 0
  const run = runOf(document, where.run ?? '')
  return run ? (solveRun(document, run).route?.straights.length ?? 1) - 1 : null
}

/**
 * What a straight lacks for this finding and for every error of it, mm: one fix serves them all. An overrun straight is
 * brought to what clamp and fittings need of it at once, not merely to no length at all.
 */
function missingOn(document: SkidDocument, run: Run, straight: number, finding: Finding): number {
  const solved = solveRun(document, run)
  const { findings } = runChecks({ ...document, runs: [run] }, [solved])
  const errors = findings.filter(f => f.severity === 'error' && straightToLengthen(document, f) === straight)
  const lacks = (f: Finding) => f.limit! - f.measured!
  const isOverrun = [finding, ...errors].some(f => f.rule === 'legOverrun')
  const length = solved.route?.straights[straight] ?? 0
  const needs = isOverrun ? (straightNeeds(document, run, solved)[straight] ?? []) : []
  return Math.max(
    ...[finding, ...errors].map(lacks),
    ...needs.filter(n => !n.someOrdersOnly).map(n => n.need - length),
  )
}

const LENGTHS: ReadonlySet<Rule> = new Set<Rule>([
  'legOverrun',
  'straightClamp',
  'straightFollower',
  'fittingStraight',
  'frontHeld',
  'tailHeld',
])

function asFix(label: string, tried: Tried | null, unit: LengthUnit): Fix {
  if (!tried) return { ok: false, label, reason: 'No point beside it can move that way: both ends are held.' }
  const [first] = tried.breaks
  return first === undefined
    ? { ok: true, label, document: tried.document }
    : { ok: false, label, reason: `That would break something else: ${inUnit(first, unit)}.` }
}
