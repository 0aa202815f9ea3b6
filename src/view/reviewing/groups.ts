import { type Decided, isOpen } from '../../checks/decisions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import type { SkidDocument } from '../../document/types.ts'
import { ruleWords } from '../../findings/rules.ts'
import { partName } from '../../skid/partName.ts'

export type GroupBy = 'run' | 'rule' | 'pair' | 'severity'

export interface Group {
  readonly title: string
  readonly items: readonly Decided[]
}

/** What the reviewer is told about an item's state; 'not checked' and 'note' are not decisions. */
export function stateWord(item: Decided): 'open' | 'reopened' | 'accepted' | 'not checked' | 'note' {
  if (item.state !== 'open') return item.state
  if (item.finding.severity === 'notChecked') return 'not checked'
  return item.finding.severity === 'note' ? 'note' : 'open'
}

const title: Record<GroupBy, (item: Decided, document: SkidDocument) => string> = {
  run: ({ finding }, document) => (finding.where.run ? partName(document, finding.where.run) : 'Whole skid'),
  rule: ({ finding }) => ruleWords(finding.rule),
  pair: ({ finding }, document) => {
    const { run, other } = finding.where
    const first = run ? partName(document, run) : 'Whole skid'
    return other ? [first, partName(document, other)].sort().join(' and ') : `${first} alone`
  },
  severity: item => stateWord(item),
}

/** Items whose sentence (as shown in `unit`), rule, run or other party has every word of the search, any case. */
export function search(
  items: readonly Decided[],
  text: string,
  document: SkidDocument,
  unit: LengthUnit = 'mm',
): readonly Decided[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean)
  if (words.length === 0) return items
  return items.filter(item => {
    const { finding } = item
    const hay = [
      inUnit(finding.sentence, unit),
      ruleWords(finding.rule),
      finding.where.run ? partName(document, finding.where.run) : '',
      finding.where.other ? partName(document, finding.where.other) : '',
      stateWord(item),
    ]
      .join(' ')
      .toLowerCase()
    return words.every(word => hay.includes(word))
  })
}

/** Groups in order of their worst item; inside a group the findings' own order (worst first) stays. */
export function group(items: readonly Decided[], by: GroupBy, document: SkidDocument): readonly Group[] {
  const groups = new Map<string, Decided[]>()
  for (const item of items) {
    const name = title[by](item, document)
    const have = groups.get(name)
    if (have) have.push(item)
    else groups.set(name, [item])
  }
  return [...groups].map(([name, members]) => ({ title: name, items: members }))
}

export interface Counts {
  readonly open: number
  readonly accepted: number
  readonly notChecked: number
}

export const count = (items: readonly Decided[]): Counts => ({
  open: items.filter(isOpen).length,
  accepted: items.filter(i => i.state === 'accepted').length,
  notChecked: items.filter(i => stateWord(i) === 'not checked').length,
})
