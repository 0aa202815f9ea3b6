import { type Decided, type Decisions, isOpen } from '../../checks/decisions.ts'
import { mm, say } from '../../document/sentence.ts'
import type { SkidDocument } from '../../document/types.ts'
import { type Rule, ruleWords } from '../../findings/rules.ts'
import type { MeshBody } from '../../skid/parts.ts'
import { BLACK, RED, rectangle, words } from '../paper.ts'
import { gap, heading, sentences, table, type Unit } from '../sheetFlow.ts'
import { fitted } from '../titleBlock.ts'
import { type Figures, saidOf } from './names.ts'

export interface Counts {
  readonly open: number
  readonly accepted: number
  readonly notChecked: number
  readonly notes: number
}

/** Each finding is one of four: to be decided, accepted, not checked, or a note. */
export function countsOf(items: readonly Decided[]): Counts {
  const notChecked = items.filter(i => i.finding.severity === 'notChecked').length
  const open = items.filter(isOpen).length
  const accepted = items.filter(i => i.state === 'accepted').length
  return { open, accepted, notChecked, notes: items.length - open - accepted - notChecked }
}

export const plural = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`

/** What stands in the stamp, worst first. Only a check that was run to its end can say that nothing is open. */
export function reviewState(
  { open, notChecked }: Counts,
  pending: string,
): { readonly text: string; readonly detail: string; readonly good: boolean } {
  const unchecked = notChecked > 0 ? `${plural(notChecked, 'check')} not run` : ''
  if (pending !== '') return { text: 'CHECK NOT FINISHED', detail: pending, good: false }
  if (open > 0)
    return {
      text: plural(open, 'OPEN FINDING', 'OPEN FINDINGS'),
      detail: unchecked || 'every check was run',
      good: false,
    }
  if (notChecked > 0) return { text: 'NOT FULLY CHECKED', detail: unchecked, good: false }
  return { text: 'NO OPEN FINDINGS', detail: 'every check was run', good: true }
}

/** The skid's name, large, and the stamp. */
export function reviewHead(
  document: SkidDocument,
  counts: Counts,
  pending: string,
  about: string,
  w: number,
): Unit {
  const state = reviewState(counts, pending)
  const stamp = 74
  return {
    height: 18,
    draw: (x, y) => {
      const ink = state.good ? BLACK : RED
      const name = fitted(document.name, w - stamp - 6, 7, 3)
      const under = fitted(about, w - stamp - 6, 3)
      const text = fitted(state.text, stamp - 4, 5.2, 3)
      const detail = fitted(state.detail, stamp - 4, 2.8)
      return [
        words(x, y + 7.6, name.text, name.size, { bold: true }),
        words(x, y + 14, under.text, under.size),
        rectangle({ x: x + w - stamp, y: y + 1.5, w: stamp, h: 13.5 }, { stroke: ink, width: 0.7 }),
        words(x + w - stamp / 2, y + 7.6, text.text, text.size, { bold: true, anchor: 'middle', ink }),
        words(x + w - stamp / 2, y + 12.6, detail.text, detail.size, { anchor: 'middle', ink }),
      ]
    },
  }
}

/** Counts by rule and by run, then what was checked and what was not. */
export function summaryUnits(
  document: SkidDocument,
  { decided, stale }: Decisions,
  {
    meshes,
    pending,
    name,
    figures: { said },
  }: {
    readonly meshes: readonly MeshBody[]
    readonly pending: string
    readonly name: (id: string) => string
    readonly figures: Figures
  },
  w: number,
): Unit[] {
  const figures = (items: readonly Decided[]) => {
    const c = countsOf(items)
    return [c.open, c.accepted, c.notChecked, c.notes].map(n => (n === 0 ? '-' : String(n)))
  }
  const columns = (title: string) => [
    { title, width: w * 0.44, bold: true },
    ...['Open', 'Accepted', 'Not checked', 'Notes'].map(t => ({ title: t, width: w * 0.14, right: true })),
  ]
  const grouped = (key: (d: Decided) => string) => {
    const groups = new Map<string, Decided[]>()
    for (const d of decided) {
      const have = groups.get(key(d))
      if (have) have.push(d)
      else groups.set(key(d), [d])
    }
    return groups
  }
  const byRule = [...grouped(d => ruleWords(d.finding.rule))]
  const byRun = grouped(d => d.finding.where.run ?? '')
  // A finding between two runs is counted at the first; the other is told in the list.
  const runRows = [...document.runs.map(r => r.id), ''].flatMap(id => {
    // Notes alone want no decision: such a run is one of those that are only counted.
    const items = byRun.get(id)
    return items?.some(d => d.finding.severity !== 'note' || d.state === 'accepted')
      ? [[id === '' ? 'the skid as a whole' : name(id), ...figures(items)]]
      : []
  })
  const listed = new Set(runRows.map(r => r[0]))
  const quiet = document.runs.length - document.runs.filter(r => listed.has(r.tag)).length
  return [
    heading('Summary', w),
    ...table(columns('All findings'), [['whole document', ...figures(decided)]]),
    ...sentences(
      [
        stale.length === 0
          ? 'No acceptance is stale.'
          : `${plural(stale.length, 'acceptance is', 'acceptances are')} stale: the finding no longer occurs. They are listed below.`,
      ],
      w,
    ),
    gap(2),
    heading('What was checked', w),
    ...sentences(checkedWords(document, decided, meshes, pending, said), w),
    ...(pending === ''
      ? []
      : sentences([`NOT FINISHED: ${pending}. What is missing here may still be wrong.`], w, '!')),
    ...notCheckedWords(decided, name, said, w),
    gap(2),
    ...(byRule.length > 0
      ? table(
          columns('By rule'),
          byRule.map(([rule, items]) => [rule, ...figures(items)]),
        )
      : []),
    gap(2),
    ...(runRows.length > 0 ? table(columns('By run'), runRows) : []),
    ...(quiet > 0
      ? sentences(
          [
            `${plural(quiet, runRows.length > 0 ? 'other run' : 'run')}: nothing open, accepted or unchecked.`,
          ],
          w,
        )
      : []),
  ]
}

const CLEARANCE: ReadonlySet<Rule> = new Set(['clearanceNotChecked'])
const BENDER: ReadonlySet<Rule> = new Set(['housingNotChecked', 'benderChecks'])

/** Which check was run on how many parts: the number left over is always told. */
function checkedWords(
  document: SkidDocument,
  decided: readonly Decided[],
  meshes: readonly MeshBody[],
  pending: string,
  said: Figures['said'],
): string[] {
  const runs = document.runs.length
  const unrun = (rules: ReadonlySet<Rule>) => decided.filter(d => rules.has(d.finding.rule))
  const runsOf = (items: readonly Decided[]) =>
    new Set(items.flatMap(d => (d.finding.where.run === null ? [] : [d.finding.where.run]))).size
  const solved = runsOf(decided.filter(d => d.finding.rule === 'routeChecks'))
  const gaps = unrun(CLEARANCE)
  const whole = gaps.some(d => d.finding.where.run === null && d.finding.where.other === undefined)
  const bodies = gaps.filter(d => d.finding.where.run === null && d.finding.where.other !== undefined).length
  const missed = runsOf(gaps)
  const bender = runsOf(unrun(BENDER))
  const of = (done: number, all: number, what: string) => `${done} of ${plural(all, what)}`
  const clearance =
    whole || pending !== ''
      ? `Clearance on the skid: ${whole ? 'not checked' : 'not finished'}.`
      : `Clearance on the skid, line and arc exact, each figure ${said(say`within ${mm(0.01)}`)}: ${of(runs - missed, runs, 'run')} against each other, themselves, ${plural(document.solids.length, 'solid')} and ${plural(meshes.length, 'part')} of imported models${bodies > 0 ? `, of which ${bodies} could not be measured` : ''}.`
  return [
    `Route, tube, straights, ports and tooling: ${of(runs - solved, runs, 'run')}.`,
    clearance,
    pending !== ''
      ? 'Motions at the bender: not finished.'
      : `Motions at the bender: ${of(runs - bender, runs, 'run')}.`,
  ]
}

function notCheckedWords(
  decided: readonly Decided[],
  name: (id: string) => string,
  said: Figures['said'],
  w: number,
): Unit[] {
  const items = decided.filter(d => d.finding.severity === 'notChecked')
  if (items.length === 0) return sentences(['All of Dogleg’s checks were run.'], w)
  return [
    heading(`Not checked (${items.length})`, w),
    ...sentences(
      saidOf(
        items.map(d => d.finding),
        name,
        said,
      ),
      w,
      '?',
    ),
  ]
}
