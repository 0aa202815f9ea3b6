import type { Model, SkidDocument } from '../document/types.ts'
import { treesKey } from '../skid/models/modelTypes.ts'
import { documentStore } from './documentStore.ts'
import { modelFileOf } from './modelFiles.ts'
import { type ReadFile, type Reading, readModelFile } from './modelReader.ts'
import { forgetModels, type LoadedModel, modelStore, putModelState } from './modelStore.ts'

/** What a read file is in a unit and axis: its drawing and its trees. @throws Error with the reason. */
export async function loadModel(
  reading: Reading,
  { read }: ReadFile,
  unitMm: number,
  up: Model['up'],
): Promise<LoadedModel> {
  return { ...(await reading.load(unitMm, up)), notes: read.notes }
}

/** Progress is shown no oftener than this, ms: each word of it draws the panels anew. */
const TELL_MS = 150

let underWay: { readonly key: string; readonly reading: Reading | null } | null = null

/** Asked again: its file may be there now. */
export function retryModel(hash: string): void {
  const states = new Map(modelStore.getState().states)
  for (const [key, state] of states)
    if (key.startsWith(`${hash}|`) && state.kind !== 'ready' && state.kind !== 'loading') states.delete(key)
  modelStore.setState({ states })
  void loadNext()
}

/** Loads the files of the document's models one after the other. Gives the function that stops it. */
export function startModels(): () => void {
  const follow = (
    now: { settled: SkidDocument; generation: number },
    before?: { settled: SkidDocument; generation: number },
  ) => {
    const isOpened = now.generation !== before?.generation
    if (now.settled.models === before?.settled.models && !isOpened) return
    const keys = new Set(now.settled.models.map(treesKey))
    // What undo may bring back is kept; another document starts anew.
    if (isOpened) forgetModels(keys)
    if (underWay && !keys.has(underWay.key)) giveUp()
    void loadNext()
  }
  const stop = documentStore.subscribe(follow)
  follow(documentStore.getState())
  return () => {
    stop()
    giveUp()
  }
}

function giveUp(): void {
  if (!underWay) return
  const { key, reading } = underWay
  underWay = null
  reading?.end()
  const states = new Map(modelStore.getState().states)
  if (states.get(key)?.kind === 'loading') states.delete(key)
  modelStore.setState({ states })
}

async function loadNext(): Promise<void> {
  if (underWay) return
  const { states } = modelStore.getState()
  const model = documentStore.getState().settled.models.find(m => !states.has(treesKey(m)))
  if (!model) return
  const key = treesKey(model)
  const mine = { key, reading: null as Reading | null }
  underWay = mine
  const isMine = () => underWay === mine
  let told = { stage: '', at: 0 }
  const tell = (stage: string, done: number | null) => {
    const now = performance.now()
    if (!isMine() || (stage === told.stage && now - told.at < TELL_MS)) return
    told = { stage, at: now }
    putModelState(key, { kind: 'loading', progress: { stage, done } })
  }
  tell('Looking for the file', null)
  try {
    const file = await modelFileOf(model.hash)
    if (!isMine()) return
    if (!file) putModelState(key, { kind: 'missing' })
    else {
      mine.reading = readModelFile(file, model.fileName, p => tell(p.stage, p.done))
      const read = await mine.reading.file
      if (read.hash !== model.hash) throw new Error('this browser’s copy is damaged: locate the file again')
      const loaded = await loadModel(mine.reading, read, model.unitMm, model.up)
      if (isMine()) putModelState(key, { kind: 'ready', loaded })
    }
  } catch (error) {
    if (isMine())
      putModelState(key, { kind: 'refused', reason: error instanceof Error ? error.message : String(error) })
  }
  mine.reading?.end()
  if (!isMine()) return
  underWay = null
  void loadNext()
}
