import type { LengthUnit } from '../../document/quantity.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { RunListState } from '../../store/runListStore.ts'
import { type Checked, type RunState, stateOfRun } from '../colouring/groups.ts'
import { lengthKind } from '../fields/quantityKind.ts'
import { countsInWords } from './severity.ts'

/** A run as the list shows and sorts it. */
export interface RunRow {
  readonly id: string
  readonly tag: string
  readonly service: string
  readonly size: string
  readonly od: number
  /** Cut length, mm, and as text; null when the run has no solution. */
  readonly length: number | null
  readonly lengthText: string
  readonly bends: number | null
  readonly state: RunState
  /** Counts of findings, or what else there is to say. */
  readonly stateText: string
}

type Shown = Pick<RunRow, 'tag' | 'service' | 'size' | 'od' | 'length' | 'lengthText' | 'bends'>
const known = new WeakMap<Run, { solved: SolvedRun | undefined; unit: LengthUnit; shown: Shown }>()

function shownOf(run: Run, solved: SolvedRun | undefined, unit: LengthUnit): Shown {
  const before = known.get(run)
  if (before && before.solved === solved && before.unit === unit) return before.shown
  const route = solved?.route ?? null
  const shown: Shown = {
    tag: visibleText(run.tag),
    service: visibleText(run.service),
    size: tubeSizeText(run.tube, unit),
    od: run.tube.od,
    length: solved?.cutLength ?? null,
    lengthText: solved?.cutLength == null ? 'not solved' : lengthKind(unit).show(solved.cutLength),
    bends: route?.bends.length ?? null,
  }
  known.set(run, { solved, unit, shown })
  return shown
}

/** The rows of all runs in the document's order. */
export function runRows(
  document: SkidDocument,
  solved: ReadonlyMap<string, SolvedRun>,
  checked: Checked,
  unit: LengthUnit,
): readonly RunRow[] {
  return document.runs.map(run => {
    const own = solved.get(run.id)
    const state = stateOfRun(run, own, checked)
    const findings = checked.byRun.get(run.id) ?? []
    const accepted = findings.filter(f => checked.accepted.has(f.id)).length
    const open = countsInWords(findings.filter(f => !checked.accepted.has(f.id)))
    const said = [open, accepted > 0 && `${accepted} accepted`].filter(Boolean).join(', ')
    const stateText =
      said || (own?.route ? (checked.complete ? 'no findings' : 'not checked yet') : 'cannot be solved')
    return { id: run.id, ...shownOf(run, own, unit), state, stateText }
  })
}

/** The rows that have every word of the text in tag, service or size and are of the state, in the order asked for. */
export function shownRows(
  rows: readonly RunRow[],
  wanted: Pick<RunListState, 'text' | 'state' | 'sort' | 'down'>,
): readonly RunRow[] {
  const words = wanted.text.toLowerCase().split(/\s+/).filter(Boolean)
  const found =
    words.length === 0 && wanted.state === null
      ? rows
      : rows.filter(row => {
          const hay = `${row.tag} ${row.service} ${row.size}`.toLowerCase()
          return (wanted.state === null || row.state === wanted.state) && words.every(w => hay.includes(w))
        })
  const { sort } = wanted
  if (sort === null) return wanted.down ? [...found].reverse() : found
  const sign = wanted.down ? -1 : 1
  return [...found].sort((a, b) => sign * ORDERS[sort](a, b) || byTag(a, b))
}

// "R-2" comes before "R-10", as a person would file them.
const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })
const byTag = (a: RunRow, b: RunRow) => collator.compare(a.tag, b.tag) || (a.tag < b.tag ? -1 : 1)
const RANK: readonly RunState[] = ['error', 'warning', 'notChecked', 'accepted', 'note', 'ok']
const ORDERS: Record<NonNullable<RunListState['sort']>, (a: RunRow, b: RunRow) => number> = {
  tag: byTag,
  service: (a, b) => collator.compare(a.service, b.service),
  size: (a, b) => a.od - b.od || collator.compare(a.size, b.size),
  length: (a, b) => (a.length ?? -1) - (b.length ?? -1),
  bends: (a, b) => (a.bends ?? -1) - (b.bends ?? -1),
  state: (a, b) => RANK.indexOf(a.state) - RANK.indexOf(b.state),
}
