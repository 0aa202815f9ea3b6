import { createStore } from 'zustand/vanilla'
import { emptyDocument } from '../document/newDocument.ts'
import { tooLarge } from '../document/sizeLimits.ts'
import type { SkidDocument } from '../document/types.ts'
import { sessionStore } from './sessionStore.ts'

interface Step {
  readonly document: SkidDocument
  /** What the step did, as a menu would say it: "Move point 3". */
  readonly label: string
}

export interface DocumentState {
  /** Counts openings: another number says that another document was opened, not that this one was edited or undone. */
  readonly generation: number
  /** What the screen shows: the preview while a gesture lasts, else the document. */
  readonly document: SkidDocument
  /** The last settled document; equal to `document` when no gesture is under way. */
  readonly settled: SkidDocument
  readonly past: readonly Step[]
  readonly future: readonly Step[]
  /** The settled document as last written to a file of the user's, or null when never. */
  readonly savedToFile: SkidDocument | null
  /**
   * One undoable step. An edit that gives the same document back is no step. One that makes something larger than any
   * skid is not done, and the status line says why: what draws and measures has no answer for it.
   */
  apply(label: string, edit: (document: SkidDocument) => SkidDocument): void
  /** Shows a document that is not history yet: every move of a drag starts again from `settled`. */
  preview(edit: (settled: SkidDocument) => SkidDocument): void
  /** Makes the preview one step. */
  settle(label: string): void
  /** Drops the preview: Escape. */
  cancel(): void
  undo(): void
  redo(): void
  /** Opens another document: history starts anew. */
  open(document: SkidDocument): void
  markSaved(): void
}

export const documentStore = createStore<DocumentState>()((set, get) => ({
  generation: 0,
  ...opened(emptyDocument('Untitled skid')),
  apply(label, edit) {
    const { settled, past } = get()
    const next = within(settled, edit(settled))
    if (next === settled) set({ document: settled })
    else set({ document: next, settled: next, past: [...past, { document: settled, label }], future: [] })
  },
  preview(edit) {
    const { settled } = get()
    const next = edit(settled)
    if (tooLarge(settled, next) === null) set({ document: next })
  },
  settle(label) {
    const { document, settled, past } = get()
    if (document !== settled)
      set({ settled: document, past: [...past, { document: settled, label }], future: [] })
  },
  cancel() {
    set({ document: get().settled })
  },
  undo() {
    const { settled, past, future } = get()
    const step = past.at(-1)
    if (!step) return
    set({
      document: step.document,
      settled: step.document,
      past: past.slice(0, -1),
      future: [...future, { document: settled, label: step.label }],
    })
  },
  redo() {
    const { settled, past, future } = get()
    const step = future.at(-1)
    if (!step) return
    set({
      document: step.document,
      settled: step.document,
      past: [...past, { document: settled, label: step.label }],
      future: future.slice(0, -1),
    })
  },
  open(document) {
    set({ generation: get().generation + 1, ...opened(document) })
  },
  markSaved() {
    set({ savedToFile: get().settled })
  },
}))

function opened(document: SkidDocument) {
  return { document, settled: document, past: [], future: [], savedToFile: null }
}

function within(settled: SkidDocument, next: SkidDocument): SkidDocument {
  const reason = tooLarge(settled, next)
  if (reason === null) return next
  sessionStore.getState().say(reason)
  return settled
}
