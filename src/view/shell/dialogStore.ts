import { createStore } from 'zustand/vanilla'
import type { FileFault } from '../../store/files.ts'

/** The dialog that is open, if any; one at a time. */
export type OpenDialog =
  | { readonly kind: 'shortcuts' }
  | { readonly kind: 'samples' }
  | { readonly kind: 'copies' }
  | { readonly kind: 'paper' }
  /** A table to take in; null: it is asked for. */
  | { readonly kind: 'importTable'; readonly source: { readonly name: string; readonly text: string } | null }
  | {
      readonly kind: 'refused'
      readonly name: string
      readonly faults: readonly FileFault[]
      /** What the file holds; null where nothing of it can be sound. */
      readonly text: string | null
    }
  /** A save that did not happen: why, or when the file was changed by someone else. */
  | {
      readonly kind: 'notSaved'
      readonly name: string
      readonly why: string | { readonly changedAt: number }
    }
  /** A new model (perhaps of a file that is there already), or another file for one of the document's. */
  | { readonly kind: 'importModel'; readonly file: File | null; readonly replaces: string | null }
  /** The file that was given is not the one that a model of the document was made with. */
  | { readonly kind: 'otherModelFile'; readonly model: string; readonly file: File }
  /** What several runs are to have in common; their ids. */
  | { readonly kind: 'changeRuns'; readonly runs: readonly string[] }
  /** A file that takes a while to open: how many of its runs are ready. Closing the dialog calls it off. */
  | { readonly kind: 'opening'; readonly name: string; readonly done: number; readonly total: number }
  | { readonly kind: 'wouldLose'; readonly next: () => void }

interface DialogState {
  readonly dialog: OpenDialog | null
  /** Single letters act as shortcuts; can be switched off for speech input. */
  readonly singleKeys: boolean
  readonly hintRead: boolean
}

export const dialogStore = createStore<DialogState>()(() => ({
  dialog: null,
  singleKeys: true,
  hintRead: false,
}))

export const showDialog = (dialog: OpenDialog | null): void => dialogStore.setState({ dialog })
