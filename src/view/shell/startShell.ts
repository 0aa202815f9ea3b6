import { visibleText } from '../../document/visibleText.ts'
import { openLastCopy, startAutosave, wouldLose } from '../../store/autosave.ts'
import { documentStore } from '../../store/documentStore.ts'
import { followPreferences, keepPreferences, readPreferences } from '../../store/preferences.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { lookForPromise } from '../../store/storagePromise.ts'
import { COMMANDS, type Command } from './commands.ts'
import { dialogStore, showDialog } from './dialogStore.ts'
import { openAtStart, openDropped } from './documentActions.ts'
import { openFromAddress, openSheetFromAddress } from './shareActions.ts'

/** The first document is opened once a page, however often the shell is mounted. */
let hasOpenedFirst = false

/**
 * Starts what is outside the panels: colours, preferences, the first document, autosave, shortcuts, the word before
 * leaving with unsaved work. Gives the function that stops all of it.
 */
export function startShell(): () => void {
  const address = new URLSearchParams(location.search)
  const stops = [
    followPreferences(),
    followTheme(),
    followTitle(),
    startAutosave(),
    listenToKeys(),
    listenToDrops(),
  ]
  const { singleKeys = true, hintRead = false } = readPreferences()
  dialogStore.setState({ singleKeys, hintRead })
  stops.push(
    dialogStore.subscribe((now, before) => {
      if (now.singleKeys !== before.singleKeys || now.hintRead !== before.hintRead)
        keepPreferences({ singleKeys: now.singleKeys, hintRead: now.hintRead })
    }),
  )
  if (address.get('detail') === 'plain') sessionStore.getState().set({ detail: 'plain' })
  void lookForPromise()
  if (!hasOpenedFirst) void openFirst(address.get('sample'))
  hasOpenedFirst = true
  const followAddress = () => void openFromAddress().then(openSheetFromAddress)
  window.addEventListener('hashchange', followAddress)
  window.addEventListener('beforeunload', askBeforeLeaving)
  return () => {
    window.removeEventListener('hashchange', followAddress)
    window.removeEventListener('beforeunload', askBeforeLeaving)
    for (const stop of stops) stop()
  }
}

/** What the address holds, else what was kept last, else a sample. A damaged link leaves the other two. */
async function openFirst(sample: string | null): Promise<void> {
  if (!(await openFromAddress())) await openAtStart(openLastCopy, sample)
  await openSheetFromAddress()
}

function askBeforeLeaving(event: BeforeUnloadEvent): void {
  if (wouldLose(documentStore.getState().settled)) event.preventDefault()
}

function followTheme(): () => void {
  const dark = matchMedia('(prefers-color-scheme: dark)')
  const apply = () => {
    const { theme } = sessionStore.getState()
    const shown = theme === 'system' ? (dark.matches ? 'dark' : 'light') : theme
    document.documentElement.setAttribute('data-theme', shown)
  }
  apply()
  dark.addEventListener('change', apply)
  const stop = sessionStore.subscribe((now, before) => {
    if (now.theme !== before.theme) apply()
  })
  return () => {
    stop()
    dark.removeEventListener('change', apply)
  }
}

function followTitle(): () => void {
  const apply = () => {
    document.title = `${visibleText(documentStore.getState().document.name)} – Dogleg`
  }
  apply()
  return documentStore.subscribe(apply)
}

const isTyping = (target: EventTarget | null) =>
  target instanceof HTMLElement &&
  (target.isContentEditable ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement ||
    (target instanceof HTMLInputElement && !['checkbox', 'radio', 'button', 'range'].includes(target.type)))

/** Whether the keys of a command are those pressed; digits and letters by place on the keyboard or by letter. */
export function matches(command: Command, event: KeyboardEvent): boolean {
  if (command.keys.includes(' ')) return false
  if (command.keys === '?') return event.key === '?' && !event.ctrlKey && !event.metaKey && !event.altKey
  const words = command.keys.split('+')
  const key = words.at(-1) ?? ''
  const mod = event.ctrlKey || event.metaKey
  if (mod !== words.includes('Mod')) return false
  if (event.altKey !== words.includes('Alt') || event.shiftKey !== words.includes('Shift')) return false
  if (/^\d$/.test(key)) return event.code === `Digit${key}`
  return event.key.toUpperCase() === key.toUpperCase() || (event.altKey && event.code === `Key${key}`)
}

/** How long the second of two letters may be waited for, ms. */
const SECOND_WITHIN_MS = 4000

/** Whether this is the first letter of commands of two; gives them. */
export const beginsWith = (event: KeyboardEvent): readonly Command[] =>
  event.ctrlKey || event.metaKey || event.altKey || event.shiftKey
    ? []
    : COMMANDS.filter(c => c.keys.includes(' ') && c.keys.split(' ')[0] === event.key.toUpperCase())

/** The one of them that the second letter means. */
export const second = (waiting: readonly Command[], event: KeyboardEvent): Command | undefined =>
  event.ctrlKey || event.metaKey || event.altKey
    ? undefined
    : waiting.find(c => c.keys.split(' ')[1] === event.key.toUpperCase())

/** What the second letter may be, in words: "A everything in view, S selection in view". */
const choicesOf = (waiting: readonly Command[]): string =>
  waiting.map(c => `${c.keys.split(' ')[1]} ${c.label.toLowerCase()}`).join(', ')

const isSingleKey = (command: Command) => !/Mod|Alt|F6|Escape/.test(command.keys)

function listenToKeys(): () => void {
  // Fields in which something was typed that is neither taken nor given up yet: there Ctrl+Z is the field's own.
  let typedIn: EventTarget | null = null
  let escapeIsTheFields = false
  // After the first of two letters: what the second may choose.
  let waiting: readonly Command[] = []
  let firstAt = 0
  const onInput = (event: Event) => {
    typedIn = event.target
  }
  const onLeave = () => {
    typedIn = null
  }
  const onKey = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return
    if (document.querySelector('dialog:modal')) return
    const typing = isTyping(event.target)
    if (!typing && dialogStore.getState().singleKeys && beginsWith(event).length > 0) {
      waiting = beginsWith(event)
      firstAt = event.timeStamp
      event.preventDefault()
      sessionStore.getState().say(`${event.key.toUpperCase()}, then: ${choicesOf(waiting)}.`)
      return
    }
    const command = COMMANDS.find(c => matches(c, event))
    if (!command) return
    if (isSingleKey(command) && (typing || !dialogStore.getState().singleKeys)) return
    if (command.keys === 'Escape' && escapeIsTheFields) return
    if (typing && event.target === typedIn && /Mod\+(Shift\+)?[ZY]/.test(command.keys)) return
    event.preventDefault()
    command.run()
  }
  /** The second letter, before any panel takes it for one of its own. */
  const onSecond = (event: KeyboardEvent) => {
    if (waiting.length === 0 || ['Shift', 'Control', 'Alt', 'Meta'].includes(event.key)) return
    const open = event.timeStamp - firstAt < SECOND_WITHIN_MS && !isTyping(event.target) ? waiting : []
    waiting = []
    const chosen = second(open, event)
    if (open.length === 0 || (!chosen && event.key !== 'Escape')) return
    event.preventDefault()
    event.stopImmediatePropagation()
    if (chosen) chosen.run()
    else sessionStore.getState().say('No view chosen.')
  }
  const onTaken = (event: KeyboardEvent) => {
    escapeIsTheFields = event.key === 'Escape' && typedIn === event.target
    if (event.key === 'Enter' || event.key === 'Escape') typedIn = null
  }
  window.addEventListener('keydown', onSecond, true)
  window.addEventListener('keydown', onTaken, true)
  window.addEventListener('keydown', onKey)
  window.addEventListener('input', onInput)
  window.addEventListener('focusout', onLeave)
  return () => {
    window.removeEventListener('keydown', onSecond, true)
    window.removeEventListener('keydown', onTaken, true)
    window.removeEventListener('keydown', onKey)
    window.removeEventListener('input', onInput)
    window.removeEventListener('focusout', onLeave)
  }
}

/** By its name; what it really is is told when it is read. */
const MODEL_FILE = /\.(step|stp|p21|glb|gltf|stl|obj)$/i

function listenToDrops(): () => void {
  const over = (event: DragEvent) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault()
  }
  const drop = (event: DragEvent) => {
    const file = event.dataTransfer?.files[0]
    if (!file) return
    event.preventDefault()
    if (MODEL_FILE.test(file.name)) showDialog({ kind: 'importModel', file, replaces: null })
    else openDropped(file)
  }
  window.addEventListener('dragover', over)
  window.addEventListener('drop', drop)
  return () => {
    window.removeEventListener('dragover', over)
    window.removeEventListener('drop', drop)
  }
}
