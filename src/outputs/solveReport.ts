import { type Decided, decide, isOpen } from '../checks/decisions.ts'
import { formatAngle, formatLength } from '../document/quantity.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { Run, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { SolvedRoute, SolvedRun } from '../solve/types.ts'

/** The figures of a document in full precision, for programs. Lengths mm, angles degrees. */
export interface SolveReport {
  readonly name: string
  readonly runs: readonly RunReport[]
  /** Findings about the document and not about one run. */
  readonly findings: readonly ReportedFinding[]
  /** How many findings of these runs and the document still have to be decided, each once: errors and warnings that nobody accepted as they stand. */
  readonly open: number
}

export interface RunReport {
  readonly tag: string
  /** Empty, like `bends`, when the route has a problem; one more than bends otherwise. */
  readonly straights: readonly number[]
  readonly bends: readonly {
    /** Place in the route's points, end A is 0. */
    readonly vertex: number
    readonly angle: number
    readonly rotation: number | null
    readonly clr: number
    readonly tangentLength: number
    readonly arcLength: number
    readonly gain: number
  }[]
  readonly developedLength: number | null
  readonly cutLength: number | null
  /** Why the route has no solution, or null. */
  readonly problem: string | null
  readonly findings: readonly ReportedFinding[]
}

/** `state` is 'none' for notes and for what was not checked: nothing has to be decided about them. */
export type ReportedFinding = Finding & { readonly state: Decided['state'] | 'none' }

export const reportedFinding = (d: Decided): ReportedFinding => ({
  ...d.finding,
  state: isOpen(d) || d.state === 'accepted' ? d.state : 'none',
})

/**
 * Solved runs and what was found about them, acceptances of the document applied. What two runs do to each other is
 * listed under both, and counted once.
 *
 * @param solvedRuns all runs of the document, or those that are asked for: of the others nothing is counted.
 */
export function solveReport(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  findings: readonly Finding[],
): SolveReport {
  const { decided } = decide(findings, document.acceptances)
  const reported = new Set(solvedRuns.map(s => s.runId))
  const isAbout = ({ finding: { where } }: Decided, run: string | null) =>
    where.run === run || (run !== null && where.other === run)
  const about = (run: string | null) => decided.filter(d => isAbout(d, run)).map(reportedFinding)
  return {
    name: document.name,
    runs: solvedRuns.map(solved => ({
      tag: solved.tag,
      straights: solved.route?.straights ?? [],
      bends: (solved.route?.bends ?? []).map(b => ({
        vertex: b.vertex,
        angle: b.angle,
        rotation: b.rotation,
        clr: b.clr,
        tangentLength: b.tangentLength,
        arcLength: b.arcLength,
        gain: b.gain,
      })),
      developedLength: solved.route?.developedLength ?? null,
      cutLength: solved.cutLength,
      problem: solved.problem?.message ?? null,
      findings: about(solved.runId),
    })),
    findings: about(null),
    open: decided.filter(d => {
      const { run, other } = d.finding.where
      const isListed = run === null || reported.has(run) || (other !== undefined && reported.has(other))
      return isListed && isOpen(d)
    }).length,
  }
}

/** Each run's bend programme as text for a person, lengths in mm to 0.01, angles in degrees to 0.01. */
export function solveText(document: SkidDocument, solvedRuns: readonly SolvedRun[]): string {
  const title = `${document.name}${document.invented ? ' (invented)' : ''}: lengths in mm, angles in degrees`
  const runs = solvedRuns.map(solved => {
    const run = document.runs.find(r => r.id === solved.runId)
    return run ? runText(run, solved) : ''
  })
  return `${[title, ...runs].join('\n\n')}\n`
}

function runText(run: Run, solved: SolvedRun): string {
  const { route } = solved
  const head = `${run.tag}  tube ${tubeSizeText(run.tube, 'mm')}, ${run.tube.material}, CLR ${size(run.clr)}${opened(run, route)}`
  if (!route) return `${head}\n  no solution: ${solved.problem?.message ?? ''}`
  const rows = route.straights.map((straight, i) => {
    const bend = route.bends[i]
    return [
      `${i + 1}`,
      formatLength(straight, 'mm', { fixed: true }),
      bend && bend.rotation !== null ? formatAngle(bend.rotation, 2, true) : '',
      bend ? formatAngle(bend.angle, 2, true) : '',
      bend ? formatLength(bend.tangentLength, 'mm', { fixed: true }) : '',
      bend ? formatLength(bend.arcLength, 'mm', { fixed: true }) : '',
    ]
  })
  const added = [
    [solved.insertionA, 'insertion at A'],
    [solved.insertionB, 'insertion at B'],
    [run.trimAllowance, 'trim'],
  ] as const
  const parts = added.filter(([n]) => n > 0).map(([n, name]) => `${length(n)} ${name}`)
  const cut = solved.cutLength === null ? '' : length(solved.cutLength)
  const stretch = solved.stretch.reduce((sum, s) => sum + s, 0)
  const less = stretch === 0 ? '' : `, less ${length(stretch)} of stretch in the bends`
  return [
    head,
    columns([['row', 'straight', 'rotation', 'angle', 'tangent', 'arc'], ...rows]),
    `  developed length ${length(route.developedLength)}`,
    `  cut length       ${cut}${parts.length > 0 ? ` (with ${parts.join(', ')}${less})` : less && ` (${less.slice(2)})`}`,
  ].join('\n')
}

/** What the bends come out as when that is another radius than was drawn; '' when it is the same. */
function opened(run: Run, route: SolvedRoute | null): string {
  const radii = route?.bends.map(b => b.clr) ?? []
  if (radii.every(r => Math.abs(r - run.clr) < 0.005)) return ''
  const [least, most] = [length(Math.min(...radii)), length(Math.max(...radii))]
  return `, made ${least === most ? least : `${least} to ${most}`}`
}

const length = (mm: number) => formatLength(mm, 'mm')
/** Inch sizes need the third decimal: 9.525 is 3/8 in. */
const size = (mm: number) => formatLength(mm, 'mm', { digits: 3 })

function columns(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map(r => r[c]!.length)))
  return rows.map(r => `  ${r.map((cell, c) => cell.padStart(widths[c]!)).join('  ')}`.trimEnd()).join('\n')
}

const SEVERITY_WORDS = {
  error: 'ERROR',
  warning: 'WARNING',
  notChecked: 'NOT CHECKED',
  note: 'note',
} as const

/** How bad a finding is, or that it is accepted, in a word. */
export const findingWord = ({ finding, state }: Decided): string =>
  state === 'accepted' ? 'accepted' : SEVERITY_WORDS[finding.severity]

/** A finding with who decided what about it. Lengths mm. */
export const findingMessage = ({ finding, state, acceptance, why }: Decided): string =>
  acceptance
    ? `${finding.message} [${state} by ${acceptance.by}: ${acceptance.reason}${why && `; ${why}`}]`
    : finding.message

/** Findings as text, worst first, one line each, with their count at the end. */
export function findingsText(document: SkidDocument, findings: readonly Finding[]): string {
  const { decided, stale } = decide(findings, document.acceptances)
  const tags = new Map(document.runs.map(r => [r.id, r.tag]))
  const tagOf = (f: Finding) => (f.where.run === null ? '-' : (tags.get(f.where.run) ?? f.where.run))
  const width = Math.max(0, ...findings.map(f => tagOf(f).length))
  const lines = decided.map(
    d => `${findingWord(d).padEnd(11)}  ${tagOf(d.finding).padEnd(width)}  ${findingMessage(d)}`,
  )
  const count = (test: (d: Decided) => boolean) => decided.filter(test).length
  const total = [
    `${count(isOpen)} open`,
    `${count(d => d.state === 'accepted')} accepted`,
    `${count(d => d.finding.severity === 'notChecked')} not checked`,
    plural(
      count(d => d.finding.severity === 'note'),
      'note',
    ),
  ].join(', ')
  const stales = stale.map(
    a => `stale        acceptance of ${a.finding} by ${a.by}: the finding no longer occurs`,
  )
  return `${[...lines, ...stales, total].join('\n')}\n`
}

const plural = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`
