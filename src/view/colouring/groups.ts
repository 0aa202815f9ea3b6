import type { Decisions } from '../../checks/decisions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { Finding, Severity } from '../../findings/finding.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { ColourBy } from '../../store/colouring.ts'
import { worstOf } from '../panels/severity.ts'
import type { BandCode } from '../scene/tubeBands.ts'

/** Colours that the style sheet has, `--` left out; of state, and eight of kinds that mean nothing by themselves. */
export const GROUP_COLOURS = [
  'state-error',
  'state-warning',
  'state-not-checked',
  'state-accepted',
  'state-note',
  'state-clear',
  'kind-1',
  'kind-2',
  'kind-3',
  'kind-4',
  'kind-5',
  'kind-6',
  'kind-7',
  'kind-rest',
] as const
export type GroupColour = (typeof GROUP_COLOURS)[number]

/** With more kinds than this the smallest share a colour: more could not be told apart. */
const KINDS = 7

/** 'accepted': all that is wrong with it was accepted. */
export type RunState = Severity | 'accepted' | 'ok'

export interface ColourGroup {
  readonly key: string
  readonly name: string
  readonly colour: GroupColour
  /** The state that it stands for, when it does: its mark is shown beside the colour. */
  readonly state: RunState | null
  /** Bands round its tubes, for those who cannot go by the colour. */
  readonly bands: BandCode
  readonly runs: readonly string[]
}

export interface Checked {
  readonly byRun: ReadonlyMap<string, readonly Finding[]>
  /** Every check was made. */
  readonly complete: boolean
  /** Ids of findings that are accepted as they stand. */
  readonly accepted: ReadonlySet<string>
}

/**
 * The worst that is known of a run and not accepted; 'accepted' when what is left beside it are notes; 'ok' only when
 * everything was checked.
 */
export function stateOfRun(
  run: Run,
  solved: SolvedRun | undefined,
  { byRun, complete, accepted }: Checked,
): RunState {
  if (!solved?.route) return 'error'
  const findings = byRun.get(run.id) ?? []
  const open = worstOf(findings.filter(f => !accepted.has(f.id)))
  if ((open === null || open === 'note') && findings.some(f => accepted.has(f.id))) return 'accepted'
  return open ?? (complete ? 'ok' : 'notChecked')
}

/** The ids of the findings that are accepted as they stand. */
export const acceptedOf = ({ decided }: Decisions): ReadonlySet<string> =>
  new Set(decided.flatMap(d => (d.state === 'accepted' ? [d.finding.id] : [])))

const STATES: readonly (readonly [state: RunState, name: string, colour: GroupColour, bands: BandCode])[] = [
  ['error', 'Error', 'state-error', [3, 3]],
  ['warning', 'Warning', 'state-warning', [3]],
  ['notChecked', 'Not checked', 'state-not-checked', [1, 1, 1]],
  ['accepted', 'Accepted', 'state-accepted', [1, 3]],
  ['note', 'Note', 'state-note', [1]],
  ['ok', 'No findings', 'state-clear', []],
]
/** Of the kinds in their order. */
const KIND_BANDS: readonly BandCode[] = [[1], [1, 1], [3], [1, 1, 1], [3, 1], [3, 3], [1, 3, 1]]
const NO_BANDS: BandCode = []

/** The runs by what their colour tells, states worst first, sizes by OD, services by name; none for 'none'. */
export function colourGroups(
  document: SkidDocument,
  by: ColourBy,
  unit: LengthUnit,
  solved: ReadonlyMap<string, SolvedRun>,
  checked: Checked,
): readonly ColourGroup[] {
  if (by === 'none') return []
  if (by === 'state') {
    const runs = gather(document.runs, run => stateOfRun(run, solved.get(run.id), checked))
    return STATES.flatMap(([state, name, colour, bands]) => {
      const ids = runs.get(state)?.map(r => r.id)
      return ids ? [{ key: state, name, colour, state, bands, runs: ids }] : []
    })
  }
  const kinds =
    by === 'size'
      ? [...gather(document.runs, run => tubeSizeText(run.tube, unit))].sort(
          ([, a], [, b]) => a[0]!.tube.od - b[0]!.tube.od || a[0]!.tube.wall - b[0]!.tube.wall,
        )
      : [...gather(document.runs, run => run.service.trim() || 'No service')].sort(([a], [b]) =>
          a < b ? -1 : 1,
        )
  const large = new Set(
    kinds.length <= KINDS ? kinds : [...kinds].sort(([, a], [, b]) => b.length - a.length).slice(0, KINDS),
  )
  const own = kinds.filter(kind => large.has(kind))
  const rest = kinds.filter(kind => !large.has(kind)).flatMap(([, runs]) => runs.map(r => r.id))
  const groups = own.map(
    ([name, runs], i): ColourGroup => ({
      key: name,
      name,
      colour: `kind-${(i + 1) as 1 | 2 | 3 | 4 | 5 | 6 | 7}`,
      state: null,
      bands: KIND_BANDS[i] ?? NO_BANDS,
      runs: runs.map(r => r.id),
    }),
  )
  if (rest.length === 0) return groups
  const name = `${kinds.length - own.length} others`
  return [...groups, { key: ' others', name, colour: 'kind-rest', state: null, bands: NO_BANDS, runs: rest }]
}

function gather<K>(runs: readonly Run[], of: (run: Run) => K): Map<K, Run[]> {
  const groups = new Map<K, Run[]>()
  for (const run of runs) {
    const key = of(run)
    const have = groups.get(key)
    if (have) have.push(run)
    else groups.set(key, [run])
  }
  return groups
}
