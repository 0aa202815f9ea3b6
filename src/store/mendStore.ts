import { createStore } from 'zustand/vanilla'
import { MEND_REACH } from '../checks/mend/gapFinding.ts'
import type { MendRequest } from '../checks/mend/mendJob.ts'
import type { Mend, Mends } from '../checks/mend/mendTypes.ts'
import { shifted } from '../checks/mend/moves.ts'
import { editRun } from '../document/edits.ts'
import { runOf } from '../document/lookUp.ts'
import type { LengthUnit } from '../document/quantity.ts'
import { formatLength } from '../document/quantity.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { workerClient } from '../workers/workerClient.ts'
import { documentStore } from './documentStore.ts'
import { meshBodiesOf } from './meshBodies.ts'

/** A search for the ways to mend one finding of one document. */
export interface MendSearch {
  readonly document: SkidDocument
  readonly findingId: string
  readonly unit: LengthUnit
  /** 0 … 1 while it lasts. */
  readonly done: number
  readonly state: 'searching' | 'found' | 'stopped' | 'failed'
  /** What was found; null before. */
  readonly mends: Mends | null
  /** Why there is no answer; '' when there is one. */
  readonly failure: string
  /** Models that no way is held against, for their file is not at hand; by name. */
  readonly missing: readonly string[]
}

export interface MendState {
  readonly search: MendSearch | null
  /** The way that is drawn as a ghost, or null. */
  readonly shown: Mend | null
  /** What the last way that was taken did, and the document that came of it. */
  readonly taken: { readonly text: string; readonly document: SkidDocument } | null
}

export const mendStore = createStore<MendState>()(() => ({ search: null, shown: null, taken: null }))

const client = workerClient<MendRequest, Mends, number>({
  start: () => new Worker(new URL('../workers/mendWorker.ts', import.meta.url), { type: 'module' }),
})
/** Counts searches: what an earlier one waited for comes too late. */
let serial = 0

/** "Move points 3 and 4 of A-101 by 14 mm along +y". */
export const mendLabel = ({ what, tag, by, way }: Mend, unit: LengthUnit): string =>
  `Move ${what} of ${tag} by ${formatLength(by, unit, { withUnit: true })} ${way}`

/** Looks for ways to mend the finding, in a worker. The newest search ends the one before. */
export function searchMends(document: SkidDocument, finding: Finding, unit: LengthUnit): void {
  const { search } = mendStore.getState()
  const isSame = search?.document === document && search.findingId === finding.id && search.unit === unit
  if (isSame && (search.state === 'searching' || search.state === 'found')) return
  endWork()
  serial++
  const { bodies, missing } = meshBodiesOf(document)
  mendStore.setState({
    search: {
      document,
      findingId: finding.id,
      unit,
      done: 0,
      state: 'searching',
      mends: null,
      failure: '',
      missing,
    },
  })
  void send(serial, { document, finding, meshes: bodies, unit })
}

/** Bodies are large: only those that a mend can come near are handed over. */
async function send(own: number, request: MendRequest): Promise<void> {
  const { document, finding, meshes } = request
  const near =
    meshes.length === 0
      ? meshes
      : (await import('../skid/surroundings.ts')).bodiesNear(document, finding, meshes, MEND_REACH)
  const isNewest = () => own === serial && mendStore.getState().search?.state === 'searching'
  if (!isNewest()) return
  const progress = (done: number) => isNewest() && patch({ done })
  const ended = await client.askNewest({ ...request, meshes: near }, { progress }).outcome
  if (!isNewest() || ended.kind === 'left') return
  if (ended.kind === 'answer') patch({ state: 'found', done: 1, mends: ended.answer })
  else patch({ state: 'failed', failure: ended.reason })
}

/** Ends the search that is under way. What it had found by then is not known. */
export function stopMends(): void {
  const { search } = mendStore.getState()
  if (search?.state !== 'searching') return
  endWork()
  patch({ state: 'stopped' })
}

/** A worker that searches cannot hear: it is ended, and the next search starts another. */
function endWork() {
  if (mendStore.getState().search?.state === 'searching') client.end()
}

const patch = (change: Partial<MendSearch>) =>
  mendStore.setState(({ search }) => ({ search: search && { ...search, ...change } }))

/** Draws the way as a ghost with its gap dimensioned; null: no longer. */
export function showMend(mend: Mend | null): void {
  if (mendStore.getState().shown !== mend) mendStore.setState({ shown: mend })
}

/** Does what the way says as one step. Gives null, or the reason why nothing was changed. */
export function takeMend(mend: Mend, unit: LengthUnit): string | null {
  const { settled, apply } = documentStore.getState()
  const run = runOf(settled, mend.runId)
  if (!run || mendStore.getState().search?.document !== settled)
    return 'The document has changed since this search: search again.'
  const label = mendLabel(mend, unit)
  showMend(null)
  apply(label, d => editRun(d, run.id, r => shifted(d, { ...mend, run: r }, mend.by)))
  const gap = formatLength(mend.clearance, unit, { withUnit: true })
  mendStore.setState({
    taken: {
      text: `${label}: done. The gap is ${gap} now, ${formatLength(mend.required, unit, { withUnit: true })} required.`,
      document: documentStore.getState().settled,
    },
  })
  return null
}
