import { type Decided, reopenedBecause } from '../../checks/decisions.ts'
import type { Acceptance } from '../../document/types.ts'
import { idWords, ruleWords } from '../../findings/rules.ts'
import type { ClearancePair } from '../../skid/clearance.ts'
import { heading, sentences, table, type Unit } from '../sheetFlow.ts'
import { type Figures, missOf, saidOf, whereWords } from './names.ts'

export interface Listed {
  readonly number: number
  readonly item: Decided
  /** The measured pair of a gap; null for any other finding. */
  readonly pair: ClearancePair | null
}

const SMALL = 2.6

/** Every open finding in one table, worst first, with the number that its picture has. */
export function openList(
  open: readonly Listed[],
  name: (id: string) => string,
  figures: Figures,
  w: number,
): Unit[] {
  const share = [0.05, 0.13, 0.2, 0.11, 0.11, 0.1, 0.3]
  const titles = ['No.', 'Rule', 'Where', 'Measured', 'Limit', 'Out by', 'Finding']
  const rows = open.map(({ number, item, item: { finding, acceptance }, pair }) => [
    String(number),
    `${ruleWords(finding.rule)}${finding.severity === 'warning' ? ' (warning)' : ''}`,
    whereWords(finding.where, name, pair),
    figures.of(finding.measured, finding),
    figures.of(finding.limit, finding),
    missOf(finding, figures),
    `${figures.said(finding.sentence)}${acceptance ? `  Reopened: ${figures.said(reopenedBecause(item))}. It was accepted by ${acceptance.by} on ${acceptance.on} (${acceptance.category}: ${acceptance.reason}).` : ''}`,
  ])
  if (open.length === 0)
    return [heading('Open findings', w), ...sentences(['None in the checks that were run.'], w)]
  return [
    heading(`Open findings (${open.length})`, w),
    ...table(
      titles.map((title, i) => ({ title, width: share[i]! * w, right: i >= 3 && i <= 5, bold: i === 0 })),
      rows,
      SMALL,
    ),
  ]
}

/** Accepted findings with what was decided, by whom, when and at which figure. */
export function acceptedList(
  accepted: readonly Listed[],
  name: (id: string) => string,
  figures: Figures,
  w: number,
): Unit[] {
  if (accepted.length === 0) return []
  const share = [0.13, 0.21, 0.11, 0.11, 0.11, 0.22, 0.11]
  const titles = ['Rule', 'Where', 'Now', 'Value when accepted', 'Category', 'Reason', 'By, on']
  return [
    heading(`Accepted findings (${accepted.length})`, w),
    ...table(
      titles.map((title, i) => ({ title, width: share[i]! * w, right: i === 2 || i === 3 })),
      accepted.map(({ item: { finding, acceptance: a }, pair }) => [
        ruleWords(finding.rule),
        whereWords(finding.where, name, pair),
        figures.of(finding.measured, finding),
        figures.of(a?.measured ?? null, finding),
        a?.category ?? '',
        a?.reason ?? '',
        `${a?.by ?? ''}, ${a?.on ?? ''}`,
      ]),
      SMALL,
    ),
  ]
}

/** Acceptances whose finding is gone: listed, never dropped. */
export function staleList(stale: readonly Acceptance[], name: (id: string) => string, w: number): Unit[] {
  if (stale.length === 0) return []
  const share = [0.15, 0.25, 0.12, 0.14, 0.22, 0.12]
  const titles = ['Rule', 'Parts', 'Value when accepted', 'Category', 'Reason', 'By, on']
  return [
    heading(`Stale acceptances (${stale.length})`, w),
    ...sentences(['Their findings no longer occur. They stay in the document until removed.'], w),
    ...table(
      titles.map((title, i) => ({ title, width: share[i]! * w, right: i === 2 })),
      stale.map(a => {
        const [rule = '', ...parts] = a.finding.split(':')
        return [
          idWords(rule),
          parts.map(name).join(', '),
          // Of what unit the figure was, the acceptance does not say.
          a.measured === null ? '-' : String(Number(a.measured.toFixed(3))),
          a.category,
          a.reason,
          `${a.by}, ${a.on}`,
        ]
      }),
      SMALL,
    ),
  ]
}

export function noteList(
  notes: readonly Decided[],
  name: (id: string) => string,
  figures: Figures,
  w: number,
): Unit[] {
  return notes.length === 0
    ? []
    : [
        heading(`Notes (${notes.length})`, w),
        ...sentences(
          saidOf(
            notes.map(d => d.finding),
            name,
            figures.said,
          ),
          w,
        ),
      ]
}
