import type { Change } from '../../checks/change.ts'
import { type FindingsComparison, findingsAbout } from '../../checks/compareFindings.ts'
import type { PartKind } from '../../checks/compareParts.ts'
import type { VersionsComparison } from '../../checks/compareVersions.ts'
import type { Move } from '../../checks/largestMove.ts'
import { capital } from '../../document/capital.ts'
import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Finding } from '../../findings/finding.ts'
import { ruleWords } from '../../findings/rules.ts'
import { changeValue, movedFigures } from '../../outputs/compareText.ts'

/** What became of something, in the word that stands before it. */
export type ChangeWord =
  | 'added'
  | 'removed'
  | 'changed'
  | 'appeared'
  | 'worse'
  | 'gone'
  | 'better'
  | 'not known'
  | 'not checked'

/** What a row is about, for flying there. `version` has it. */
export type ChangeAbout =
  | { readonly kind: 'run'; readonly run: string; readonly move: Move | null }
  | { readonly kind: 'part'; readonly part: PartKind; readonly id: string }
  | { readonly kind: 'finding'; readonly finding: Finding }
  | { readonly kind: 'document' }

export interface ChangeRow {
  /** Kind and id: the same row after an edit elsewhere. */
  readonly id: string
  readonly word: ChangeWord
  readonly version: 'now' | 'earlier'
  readonly about: ChangeAbout
  readonly title: string
  readonly more: string
  /** At the row's right end, short. */
  readonly figure: string
  readonly changes: readonly Change[]
  /** Of a run; null while they are not known. */
  readonly findings: FindingsComparison | null
}
export interface ChangeGroup {
  readonly title: string
  readonly rows: readonly ChangeRow[]
}

/** All that is different, in groups: runs, other parts, the document, findings by what became of them. */
export function changeGroups(
  { runs, moves, others, findings }: VersionsComparison,
  name: (id: string) => string,
  unit: LengthUnit,
): readonly ChangeGroup[] {
  const row = (word: ChangeWord, about: ChangeAbout, id: string, over: Partial<ChangeRow>): ChangeRow => ({
    id: `${about.kind}:${id}`,
    word,
    version: word === 'removed' || word === 'gone' ? 'earlier' : 'now',
    about,
    title: '',
    more: '',
    figure: '',
    changes: [],
    findings: null,
    ...over,
  })
  const runRow = (
    word: ChangeWord,
    run: string,
    title: string,
    changes: readonly Change[] = [],
  ): ChangeRow => {
    const move = moves.get(run) ?? null
    const about = findings && findingsAbout(findings, run)
    const moved = move && `${move.point} moved ${formatLength(move.by, unit, { withUnit: true })}`
    const count = about ? changedFindings(about) : 0
    return row(word, { kind: 'run', run, move }, run, {
      title,
      more: moved ?? headline(changes, unit),
      figure: count > 0 ? `${count} ${count === 1 ? 'finding' : 'findings'}` : '',
      changes,
      findings: about,
    })
  }
  const partRow = (
    word: ChangeWord,
    kind: PartKind,
    part: { readonly id: string; readonly name: string },
    changes: readonly Change[] = [],
  ) =>
    row(word, { kind: 'part', part: kind, id: part.id }, `${kind}:${part.id}`, {
      title: part.name,
      more: changes.length > 0 ? `${kind}: ${headline(changes, unit)}` : kind,
      changes,
    })
  const findingRow = (word: ChangeWord, finding: Finding, over: Partial<ChangeRow> = {}) => {
    const { run, other } = finding.where
    const parties = [run, other].filter(id => id !== null && id !== undefined).map(name)
    return row(word, { kind: 'finding', finding }, `${word}:${finding.id}`, {
      title: ruleWords(finding.rule),
      more: parties.join(' and ') || 'the whole skid',
      figure: finding.measured === null ? '' : changeValue(finding.measured, finding, unit),
      ...over,
    })
  }
  const moved = (word: ChangeWord, list: FindingsComparison['worse']) =>
    list.map(m => {
      const { before, after } = movedFigures(m, unit)
      return findingRow(word, m.finding, before === after ? {} : { figure: `${before} → ${after}` })
    })
  const plain = (word: ChangeWord, list: readonly Finding[], version: 'now' | 'earlier' = 'now') =>
    list.map(finding => findingRow(word, finding, { version }))

  const groups: ChangeGroup[] = [
    {
      title: `Runs: ${counted([
        [runs.added.length, 'added'],
        [runs.removed.length, 'removed'],
        [runs.changed.length, 'changed'],
        [runs.same, 'the same'],
      ])}`,
      rows: [
        ...runs.changed.map(c => runRow('changed', c.runId, c.tag, c.changes)),
        ...runs.added.map(r => runRow('added', r.id, r.tag)),
        ...runs.removed.map(r => runRow('removed', r.id, r.tag)),
      ],
    },
    ...others.parts.map(
      ({ kind, added, removed, changed }): ChangeGroup => ({
        title: `${capital(kind)}s: ${counted([
          [added.length, 'added'],
          [removed.length, 'removed'],
          [changed.length, 'changed'],
        ])}`,
        rows: [
          ...changed.map(p => partRow('changed', kind, p, p.changes)),
          ...added.map(p => partRow('added', kind, p)),
          ...removed.map(p => partRow('removed', kind, p)),
        ],
      }),
    ),
    {
      title: 'Document',
      rows:
        others.settings.length === 0
          ? []
          : [
              row('changed', { kind: 'document' }, 'settings', {
                title: 'Name, note and requirements',
                more: headline(others.settings, unit),
                changes: others.settings,
              }),
            ],
    },
  ]
  if (findings) {
    const { notChecked } = findings
    const ofFindings: [string, readonly ChangeRow[]][] = [
      ['appeared', plain('appeared', findings.appeared)],
      ['got worse', moved('worse', findings.worse)],
      ['went away', plain('gone', findings.gone, 'earlier')],
      ['got better', moved('better', findings.better)],
      ['changed otherwise', moved('changed', findings.changed)],
      ['found now, not checked before', plain('not known', findings.notKnownBefore)],
      ['found before, not checked now', plain('not known', findings.notKnownNow, 'earlier')],
      ['not checked in the earlier version', plain('not checked', notChecked.before, 'earlier')],
      ['not checked now', plain('not checked', notChecked.now)],
      ['not checked in either version', plain('not checked', notChecked.both)],
    ]
    for (const [title, rows] of ofFindings) groups.push({ title: `Findings: ${rows.length} ${title}`, rows })
  }
  return groups.filter((g, i) => i === 0 || g.rows.length > 0)
}

/** Findings of a run that are not what they were. */
export const changedFindings = (f: FindingsComparison): number =>
  f.appeared.length + f.gone.length + f.worse.length + f.better.length + f.changed.length

const counted = (list: readonly (readonly [number, string])[]): string =>
  list
    .filter(([n]) => n > 0)
    .map(([n, what]) => `${n} ${what}`)
    .join(', ') || 'none'

/** The first of the changes and how many there are besides. */
function headline(changes: readonly Change[], unit: LengthUnit): string {
  const [first] = changes
  if (!first) return ''
  const text = `${first.what} ${changeValue(first.before, first, unit)} → ${changeValue(first.after, first, unit)}`
  return changes.length > 1 ? `${text}, ${changes.length - 1} more` : text
}
