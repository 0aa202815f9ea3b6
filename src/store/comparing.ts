import { sameSkid } from '../checks/sameSkid.ts'
import type { VersionAnswer, VersionMessage } from '../checks/versionFindings.ts'
import type { SkidDocument } from '../document/types.ts'
import { compareStore, type ShownVersion } from './compareStore.ts'
import { documentStore } from './documentStore.ts'
import { earlierModels } from './earlierModels.ts'
import { modelStore } from './modelStore.ts'
import { sessionStore } from './sessionStore.ts'

let worker: Worker | null = null
let reading: AbortController | null = null
let serial = 0
/** Runs that are hidden only because the earlier version alone is shown. */
let hidden: ReadonlySet<string> = new Set()
/** Hashes of the earlier version's model files that could not be had. */
let lacking: ReadonlySet<string> = new Set()
let stops: readonly (() => void)[] = []

/** Compares with a version; its checks run in a worker. Edits and undo keep the comparison, another skid ends it. */
export function compareWith(name: string, document: SkidDocument): void {
  stopComparing()
  compareStore.setState({ earlier: { name, document }, ended: '' })
  stops = [
    documentStore.subscribe((now, before) => {
      const isOpened = now.past.length === 0 && now.future.length === 0
      if (isOpened && now.settled !== before.settled) anotherOpened(now.settled)
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
  hideInstead([])
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
  hideInstead(show === 'earlier' ? different : [])
  compareStore.setState({ show })
}

/** Checks the earlier version (anew): at the start, and when a file of its models has been found. */
export function checkEarlier(): void {
  const { earlier } = compareStore.getState()
  if (!earlier) return
  endCheck()
  compareStore.setState({ checked: { state: 'checking' } })
  const own = new Worker(new URL('../compareWorker.ts', import.meta.url), { type: 'module' })
  worker = own
  const asked = serial
  own.onmessage = ({ data }: MessageEvent<VersionAnswer>) => {
    if (data.serial !== serial) return
    endCheck()
    compareStore.setState({
      checked: data.ok
        ? { state: 'done', findings: data.findings }
        : { state: 'failed', reason: data.reason },
    })
  }
  own.onerror = event => {
    if (asked !== serial) return
    endCheck()
    compareStore.setState({
      checked: { state: 'failed', reason: event.message || 'the worker could not be started' },
    })
  }
  reading = new AbortController()
  void handOver(own, asked, earlier.document, reading.signal)
}

/** Gives the worker the parts of the earlier version's models, then the version; leaves off when another is asked. */
async function handOver(
  to: Worker,
  asked: number,
  document: SkidDocument,
  signal: AbortSignal,
): Promise<void> {
  const tell = (message: VersionMessage) => to.postMessage(message)
  const why = new Map<string, string>()
  const missing = new Set<string>()
  for await (const model of earlierModels(document.models, signal)) {
    if (asked !== serial) return
    const { key } = model
    if ('parts' in model) {
      tell({ kind: 'parts', key, parts: [] })
      for (const part of model.parts) {
        tell({ kind: 'parts', key, parts: [part] })
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
  tell({ kind: 'check', serial: asked, document, why })
}

function endCheck(): void {
  reading?.abort()
  reading = null
  worker?.terminate()
  worker = null
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

function hideInstead(ids: readonly string[]): void {
  if (ids.length === 0 && hidden.size === 0) return
  const { hiddenRuns, set } = sessionStore.getState()
  const own = [...hiddenRuns].filter(id => !hidden.has(id))
  hidden = new Set(ids.filter(id => !own.includes(id)))
  set({ hiddenRuns: new Set([...own, ...hidden]) })
}
