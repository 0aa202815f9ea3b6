import { fittingKind } from '../catalogue/fittingKinds.ts'
import { KNOWN_BENDERS, knownBender } from './knownBenders.ts'
import { benderOf, fittingOf, springbackOf, toolingOf } from './lookUp.ts'
import type { Bender, Run, SkidDocument, Springback, Tooling } from './types.ts'

/** Over any rounding of inches and of files, under any change that a person types: mm and degrees. */
const SAME = 1e-6
const same = (a: number | null | undefined, b: number | null | undefined) =>
  a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) <= SAME)

/**
 * Where a springback record is from: 'example', the figures that came with the program; 'typed', figures of somebody's
 * in an example's record, whose range of trials is still the example's; 'assumed', without trials; 'trials'.
 */
export type SpringbackOrigin = 'example' | 'typed' | 'assumed' | 'trials'

export function springbackOrigin(bender: Bender, record: Springback): SpringbackOrigin {
  const rangeOf = (other: Springback) =>
    record.range !== null &&
    other.range !== null &&
    same(record.range[0], other.range[0]) &&
    same(record.range[1], other.range[1])
  const alike = (other: Springback) =>
    other.material === record.material &&
    same(other.offset, record.offset) &&
    same(other.perDegree, record.perDegree) &&
    (rangeOf(other) || record.range === other.range)
  if (KNOWN_BENDERS.some(k => k.bender.springback.some(alike))) return 'example'
  if (record.range === null) return 'assumed'
  const row = knownOf(bender)?.springback.find(s => s.material === record.material)
  return row && rangeOf(row) ? 'typed' : 'trials'
}

const knownOf = (bender: Bender): Bender | null =>
  bender.catalogueId === null ? null : (knownBender(bender.catalogueId)?.bender ?? null)

const TOOLING = [
  ['clamp grip', 'clampGrip'],
  ['follower length', 'followerLength'],
  ['reference line', 'referenceOffset'],
  ['largest angle', 'maxAngle'],
] as const satisfies readonly (readonly [string, keyof Tooling])[]

/** Of a bender's tooling, by name, what is still as it came with the program. */
function toolingExamples(bender: Bender, tooling: Tooling): string[] {
  const like = (t: Tooling) => same(t.od, tooling.od) && same(t.clr, tooling.clr)
  const row = knownOf(bender)?.tooling.find(like)
  if (row) return TOOLING.flatMap(([name, key]) => (same(tooling[key], row[key]) ? [name] : []))
  // A record copied whole into a bender of another name; single figures may be alike by chance.
  const copied = KNOWN_BENDERS.some(k =>
    k.bender.tooling.some(t => like(t) && TOOLING.every(([, key]) => same(t[key], tooling[key]))),
  )
  return copied ? TOOLING.map(([name]) => name) : []
}

const solidsOf = ({ housing, arm, benchTop, benchEdge }: Bender) =>
  sorted([housing, arm, benchTop, benchEdge])

/** The same text for the same figures, whatever the order of their names. */
const sorted = (value: unknown): string =>
  JSON.stringify(value, (_, v) =>
    v !== null && typeof v === 'object' && !Array.isArray(v)
      ? Object.fromEntries(Object.entries(v).sort(([a], [b]) => (a < b ? -1 : 1)))
      : v,
  )

export interface ExampleFigures {
  /** Of the bender that the run is made on, by name: none when every figure is the user's own, or there is no bender. */
  readonly bender: readonly string[]
  /** Ends whose port has its depth and straight from the program's table. */
  readonly ports: readonly ('A' | 'B')[]
}

/**
 * What of a run's figures came with the program and was never replaced by the user's own, whatever the document says
 * of itself.
 */
export function exampleFigures(document: SkidDocument, run: Run): ExampleFigures {
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  const springback = bender && springbackOf(bender, run)
  const known = bender && KNOWN_BENDERS.some(k => solidsOf(k.bender) === solidsOf(bender))
  const isExample = (end: Run['endA']) => {
    const port = fittingOf(document, end)
    const row = port?.catalogueId ? fittingKind(port.catalogueId) : null
    return (
      row?.source.startsWith('invented') === true &&
      same(port?.insertionDepth, row.insertionDepth) &&
      same(port?.straightNeeded, row.straightNeeded)
    )
  }
  return {
    bender: bender
      ? [
          ...(springback && springbackOrigin(bender, springback) === 'example' ? ['springback'] : []),
          ...(tooling ? toolingExamples(bender, tooling) : []),
          ...(known && bender.housing.length + bender.arm.length > 0 ? ['housing and arm'] : []),
        ]
      : [],
    ports: (['A', 'B'] as const).filter(end => isExample(end === 'A' ? run.endA : run.endB)),
  }
}

/** What {@link exampleFigures} found, in sentences for paper and screen; none when nothing did. */
export function exampleWords({ bender, ports }: ExampleFigures): string[] {
  return [
    ...(bender.length > 0
      ? [`Example figures that came with Dogleg, not measured on your bender: ${bender.join(', ')}.`]
      : []),
    ...(ports.length > 0
      ? [
          `Port data at end ${ports.join(' and end ')}: example figures that came with Dogleg, not your fitting maker’s.`,
        ]
      : []),
  ]
}
