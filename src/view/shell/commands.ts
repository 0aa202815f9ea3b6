import type { LengthUnit } from '../../document/quantity.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type CameraRequest, type Mode, sessionStore } from '../../store/sessionStore.ts'
import { toggleMeasure, toggleSection, toggleViews } from '../look/lookActions.ts'
import { showDialog } from './dialogStore.ts'
import { newDocument, openFromFile, save } from './documentActions.ts'
import { MODES } from './modes.ts'

/** One thing the keyboard does anywhere on the page. */
export interface Command {
  readonly group: 'Document' | 'View' | 'Tools and display'
  readonly label: string
  /**
   * `Mod` is Ctrl, or ⌘ on a Mac. The last word is a `KeyboardEvent.code` without `Key`/`Digit`. Two letters with a space
   * between are pressed one after the other.
   */
  readonly keys: string
  run(): void
}

const session = () => sessionStore.getState()
const UNITS: readonly LengthUnit[] = ['mm', 'in', 'fraction']
const UNIT_NAMES: Readonly<Record<LengthUnit, string>> = {
  mm: 'millimetres',
  in: 'decimal inches',
  fraction: 'fractional inches',
}

export const undo = (): void => {
  const step = documentStore.getState().past.at(-1)
  documentStore.getState().undo()
  session().say(step ? `Undone: ${step.label}.` : 'Nothing to undo.')
}
export const redo = (): void => {
  const step = documentStore.getState().future.at(-1)
  documentStore.getState().redo()
  session().say(step ? `Redone: ${step.label}.` : 'Nothing to redo.')
}
export const showUnit = (unit: LengthUnit): void => {
  session().set({ unit })
  session().say(`Lengths are shown in ${UNIT_NAMES[unit]}.`)
}
const nextUnit = () => showUnit(UNITS[(UNITS.indexOf(session().unit) + 1) % UNITS.length] ?? 'mm')
export const showMode = (mode: Mode): void => {
  session().set({ mode, tool: 'pick' })
  session().say(MODES.find(m => m.mode === mode)?.title ?? '')
}
export const toggleRoute = (): void => session().set({ showRoute: !session().showRoute })
export const toggleDetail = (): void =>
  session().set({ detail: session().detail === 'plain' ? 'full' : 'plain' })
export const nextTheme = (): void => {
  const order = ['system', 'light', 'dark'] as const
  const theme = order[(order.indexOf(session().theme) + 1) % 3] ?? 'system'
  session().set({ theme })
  session().say(theme === 'system' ? 'Colours follow the system.' : `Colours are ${theme}.`)
}
const toggleProjection = () =>
  session().set({ projection: session().projection === 'perspective' ? 'orthographic' : 'perspective' })
const toggleTool = () => session().set({ tool: session().tool === 'place' ? 'pick' : 'place' })

/** Moves the focus to the next (or previous) region of the screen, in reading order. */
function moveRegion(step: 1 | -1): void {
  const regions = [...document.querySelectorAll<HTMLElement>('.topBar, section[aria-label], .statusBar')]
  if (regions.length === 0) return
  const at = regions.findLastIndex(region => region.contains(document.activeElement))
  const next = regions[(at + step + regions.length) % regions.length]
  if (!next) return
  if (!next.hasAttribute('tabindex')) next.tabIndex = -1
  next.focus()
}

const look = (from: Extract<CameraRequest, { kind: 'look' }>['from'], keys: string): Command => ({
  group: 'View',
  label: from === 'iso' ? 'Isometric view' : from === 'bottom' ? 'View from under' : `View from the ${from}`,
  keys,
  run: () => session().look({ kind: 'look', from }),
})

export const COMMANDS: readonly Command[] = [
  ...MODES.map(
    (m): Command => ({ group: 'View', label: m.label, keys: m.keys, run: () => showMode(m.mode) }),
  ),
  { group: 'Document', label: 'Undo', keys: 'Mod+Z', run: undo },
  { group: 'Document', label: 'Redo', keys: 'Mod+Shift+Z', run: redo },
  { group: 'Document', label: 'Redo', keys: 'Mod+Y', run: redo },
  { group: 'Document', label: 'Save', keys: 'Mod+S', run: () => save() },
  { group: 'Document', label: 'Save as', keys: 'Mod+Shift+S', run: () => save('elsewhere') },
  { group: 'Document', label: 'Open a file', keys: 'Mod+O', run: openFromFile },
  { group: 'Document', label: 'Paper and files', keys: 'Mod+P', run: () => showDialog({ kind: 'paper' }) },
  {
    group: 'Document',
    label: 'Import a model',
    keys: 'Alt+I',
    run: () => showDialog({ kind: 'importModel', file: null, replaces: null }),
  },
  {
    group: 'Document',
    label: 'Import a table',
    keys: 'Alt+R',
    run: () => showDialog({ kind: 'importTable', source: null }),
  },
  { group: 'Document', label: 'New skid', keys: 'Alt+N', run: newDocument },
  { group: 'Document', label: 'Samples', keys: 'Alt+S', run: () => showDialog({ kind: 'samples' }) },
  {
    group: 'Document',
    label: 'Saved in this browser',
    keys: 'Alt+K',
    run: () => showDialog({ kind: 'copies' }),
  },
  { group: 'View', label: 'Everything in view', keys: 'V A', run: () => session().look({ kind: 'fit' }) },
  {
    group: 'View',
    label: 'Selection in view',
    keys: 'V S',
    run: () => session().look({ kind: 'fitSelection' }),
  },
  look('iso', 'V I'),
  look('top', 'V T'),
  look('front', 'V F'),
  look('right', 'V R'),
  look('left', 'V L'),
  look('back', 'V B'),
  look('bottom', 'V U'),
  { group: 'View', label: 'Perspective or parallel', keys: 'O', run: toggleProjection },
  { group: 'View', label: 'Show or hide route legs', keys: 'R', run: toggleRoute },
  { group: 'Tools and display', label: 'Place points, or pick and drag', keys: 'P', run: toggleTool },
  { group: 'Tools and display', label: 'Section plane on or off', keys: 'S', run: toggleSection },
  { group: 'Tools and display', label: 'Measure between two things', keys: 'M', run: toggleMeasure },
  { group: 'Tools and display', label: 'Saved views', keys: 'V V', run: toggleViews },
  {
    group: 'Tools and display',
    label: 'Select nothing',
    keys: 'Escape',
    run: () => session().select(null),
  },
  { group: 'Tools and display', label: 'Next unit', keys: 'U', run: nextUnit },
  { group: 'Tools and display', label: 'Switch theme', keys: 'Alt+T', run: nextTheme },
  { group: 'Tools and display', label: 'Plain or full detail', keys: 'Alt+D', run: toggleDetail },
  { group: 'Tools and display', label: 'Next panel', keys: 'F6', run: () => moveRegion(1) },
  {
    group: 'Tools and display',
    label: 'Previous panel',
    keys: 'Shift+F6',
    run: () => moveRegion(-1),
  },
  {
    group: 'Tools and display',
    label: 'This sheet',
    keys: '?',
    run: () => showDialog({ kind: 'shortcuts' }),
  },
]
