import { sameSkid } from '../checks/sameSkid.ts'
import type { VersionParts, VersionRequest } from '../checks/versionFindings.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { workerClient } from '../workers/workerClient.ts'
import { compareStore, type ShownVersion } from './compareStore.ts'
import { documentStore } from './documentStore.ts'
import { earlierModels } from './earlierModels.ts'
import { modelStore } from './modelStore.ts'
import { sessionStore } from './sessionStore.ts'

const client = workerClient<VersionRequest, readonly Finding[], never, VersionParts>({
  start: () => new Worker(new URL('../workers/compareWorker.ts', import.meta.url), { type: 'module' }),
  // It was told the parts of models bit by bit: the next one is told all of them before it is asked.
  onDeath: reason => {
    if (compareStore.getState().checked.state === 'done') return
    compareStore.setState({ checked: { state: 'failed', reason } })
    startCheck()
  },
})
let reading: AbortController | null = null
let serial = 0
/** Hashes of the earlier version's model files that could not be had. */
let lacking: ReadonlySet<string> = new Set()
let stops: readonly (() => void)[] = []

/** Compares with a version; its checks run in a worker. Edits and undo keep the comparison, another skid ends it. */
export function compareWith(name: string, document: SkidDocument): void {
  stopComparing()
  compareStore.setState({ earlier: { name, document }, ended: '' })
  stops = [
    documentStore.subscribe((now, before) => {
      if (now.generation !== before.generation) anotherOpened(now.settled)
    }),
    modelStore.subscribe(({ states }) => {
      for (const [key, { kind }] of states)
        if (kind === 'ready' && lacking.has(key.slice(0, key.indexOf('|')))) return checkEarlier()
    }),
  ]
  checkEarlier()
}

/** Nothing is compared any more; what was hidden for it is shown again. */
export function stopComparing(): void {
  for (const stop of stops) stop()
  stops = []
  endCheck()
  lacking = new Set()
  sessionStore.getState().hide({ comparison: new Set() })
  compareStore.setState({
    earlier: null,
    show: 'both',
    checked: { state: 'checking' },
    chosen: null,
    ended: '',
  })
}

/** @param different ids of the runs of the open document that the earlier version has otherwise or not at all. */
export function showVersion(show: ShownVersion, different: readonly string[]): void {
  sessionStore.getState().hide({ comparison: new Set(show === 'earlier' ? different : []) })
  compareStore.setState({ show })
}

/** Checks the earlier version (anew): at the start, and when a file of its models has been found. */
export function checkEarlier(): void {
  if (!compareStore.getState().earlier) return
  compareStore.setState({ checked: { state: 'checking' } })
  startCheck()
}

function startCheck(): void {
  const { earlier } = compareStore.getState()
  endCheck()
  if (!earlier) return
  reading = new AbortController()
  void check(serial, earlier.document, reading.signal)
}

/** Gives the worker the parts of the earlier version's models, then the version; leaves off when another is asked. */
async function check(asked: number, document: SkidDocument, signal: AbortSignal): Promise<void> {
  const why = new Map<string, string>()
  const missing = new Set<string>()
  for await (const model of earlierModels(document.models, signal)) {
    if (asked !== serial) return
    const { key } = model
    if ('parts' in model) {
      client.tell({ key, parts: [] })
      for (const part of model.parts) {
        client.tell({ key, parts: [part] })
        await new Promise(done => setTimeout(done))
        if (asked !== serial) return
      }
    } else {
      missing.add(key.slice(0, key.indexOf('|')))
      if (model.why) why.set(key, model.why)
    }
  }
  if (asked !== serial) return
  lacking = missing
  const ended = await client.askNewest({ document, why }).outcome
  if (asked !== serial || ended.kind === 'died' || ended.kind === 'left') return
  endCheck()
  compareStore.setState({
    checked:
      ended.kind === 'answer'
        ? { state: 'done', findings: ended.answer }
        : { state: 'failed', reason: ended.reason },
  })
}

/** Its worker goes too: it holds copies of whole models. */
function endCheck(): void {
  reading?.abort()
  reading = null
  client.end()
  serial++
}

/** A later save of the same skid is what a reviewer compares next; with any other skid every run would differ. */
function anotherOpened(opened: SkidDocument): void {
  const { earlier } = compareStore.getState()
  if (!earlier) return
  const goesOn = sameSkid(earlier.document, opened)
  if (goesOn) {
    compareStore.setState({ chosen: null })
    showVersion('both', [])
  } else {
    stopComparing()
    compareStore.setState({
      ended: `The comparison with ${earlier.name} ended: “${opened.name}”, opened since, is another skid.`,
    })
  }
  const word = goesOn
    ? `It is compared with ${earlier.name} as before.`
    : `The comparison with ${earlier.name} ended: this is another skid.`
  // What opened it has its own word first.
  setTimeout(() => {
    const { said, say } = sessionStore.getState()
    say(said ? `${said} ${word}` : word)
  })
}
