import type { Change } from '../checks/change.ts'
import type { MovedFinding } from '../checks/compareFindings.ts'
import type { VersionsComparison } from '../checks/compareVersions.ts'
import { formatAngle, formatLength, type LengthUnit } from '../document/quantity.ts'
import { inUnit, type Sentence } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleText } from '../document/visibleText.ts'
import type { Finding } from '../findings/finding.ts'
import { ruleWords } from '../findings/rules.ts'
import { partName } from '../skid/partName.ts'
import { saidOf } from './review/names.ts'

/** One value of a change as a person reads it. */
export function changeValue(
  value: Change['before'],
  { unit: of, before, sentences }: Pick<Change, 'unit'> & Partial<Pick<Change, 'before' | 'sentences'>>,
  unit: LengthUnit,
): string {
  if (value === null) return 'none'
  if (sentences) return inUnit(value === before ? sentences.before : sentences.after, unit)
  if (typeof value === 'string') return value === '' ? '(empty)' : value
  if (of === 'deg') return `${formatAngle(value)}°`
  return of === 'mm' ? formatLength(value, unit, { withUnit: true }) : String(Number(value.toFixed(6)))
}

/** "cut length 812.4 mm → 837.4 mm" */
const changeText = (change: Change): string =>
  `${change.what}: ${changeValue(change.before, change, 'mm')} -> ${changeValue(change.after, change, 'mm')}`

/** The name of a part of either version: as it is now, else as it was. */
export function namesOfBoth(before: SkidDocument, after: SkidDocument): (id: string) => string {
  return id => {
    const now = partName(after, id)
    return now === id ? partName(before, id) : now
  }
}

/** Both figures of a finding, each with its limit where that is another: "4 mm of 10 mm". */
export function movedFigures(
  { finding, before, after, limits }: MovedFinding,
  unit: LengthUnit,
): { readonly before: string; readonly after: string } {
  const figure = (x: number | null) => changeValue(x, { unit: finding.unit }, unit)
  const of = (measured: number | null, limit: number | null) =>
    limits ? `${figure(measured)} of ${figure(limit)}` : measured === null ? '' : figure(measured)
  return { before: of(before, limits?.before ?? null), after: of(after, limits?.after ?? null) }
}

/** What was found about findings, each kind under its name; empty kinds are left out. */
export function findingGroups(
  { findings }: VersionsComparison,
  name: (id: string) => string,
  unit: LengthUnit,
): [string, readonly string[]][] {
  if (!findings) return []
  const write = (sentence: Sentence) => inUnit(sentence, unit)
  const said = (finding: Finding, more = '') =>
    `${ruleWords(finding.rule)}${more}, ${saidOf([finding], name, write)[0]}`
  const plain = (list: readonly Finding[]) => list.map(f => said(f))
  const moved = (list: readonly MovedFinding[]) =>
    list.map(m => {
      const { before, after } = movedFigures(m, unit)
      return said(m.finding, before === after ? '' : ` (${before} before, ${after} now)`)
    })
  const groups: [string, readonly string[]][] = [
    ['appeared', plain(findings.appeared)],
    ['got worse', moved(findings.worse)],
    ['went away', plain(findings.gone)],
    ['got better', moved(findings.better)],
    ['changed otherwise', moved(findings.changed)],
    ['found now, not checked in the earlier version', plain(findings.notKnownBefore)],
    ['found before, not checked now', plain(findings.notKnownNow)],
    ['not checked in the earlier version', saidOf(findings.notChecked.before, name, write)],
    ['not checked now', saidOf(findings.notChecked.now, name, write)],
    ['not checked in either version', saidOf(findings.notChecked.both, name, write)],
  ]
  return groups.filter(([, list]) => list.length > 0)
}

/** The comparison as text for a person; mm. */
export function compareText(found: VersionsComparison, name: (id: string) => string): string {
  const { runs, moves, others } = found
  const out: string[] = [
    `runs: ${runs.added.length} added, ${runs.removed.length} removed, ${runs.changed.length} changed, ${runs.same} the same`,
  ]
  for (const run of runs.added) out.push(`  + ${run.tag}`)
  for (const run of runs.removed) out.push(`  - ${run.tag}`)
  for (const { runId, tag, changes } of runs.changed) {
    const move = moves.get(runId)
    out.push(`  ~ ${tag}${move ? `   ${move.point} moved ${formatLength(move.by, 'mm')} mm` : ''}`)
    for (const c of changes) out.push(`      ${changeText(c)}`)
  }
  for (const { kind, added, removed, changed } of others.parts) {
    out.push(`${kind}s: ${added.length} added, ${removed.length} removed, ${changed.length} changed`)
    for (const p of added) out.push(`  + ${p.name}`)
    for (const p of removed) out.push(`  - ${p.name}`)
    for (const p of changed) out.push(`  ~ ${p.name}`, ...p.changes.map(c => `      ${changeText(c)}`))
  }
  if (others.settings.length > 0) out.push('document:', ...others.settings.map(c => `  ~ ${changeText(c)}`))
  if (!found.findings) out.push('findings: not compared')
  else {
    const groups = findingGroups(found, name, 'mm')
    out.push(
      `findings: ${groups.map(([name, list]) => `${list.length} ${name}`).join(', ') || 'none appeared, went away or moved'}`,
    )
    for (const [name, list] of groups) out.push(`  ${name}`, ...list.map(t => `    ${t}`))
  }
  return `${out.map(visibleText).join('\n')}\n`
}
