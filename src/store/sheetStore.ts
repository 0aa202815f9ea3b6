import { createStore } from 'zustand/vanilla'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { Copy } from './copies.ts'

/** A sheet whose run was found, but with other figures than are on the sheet. */
export interface OldSheet {
  readonly code: string
  readonly runId: string
  /** A kept copy that still has the sheet's figures, or null. */
  readonly copy: Copy | null
}

interface SheetState {
  /** Stands before the steps of its run until someone has decided what to bend by; null when no sheet is in doubt. */
  readonly old: OldSheet | null
  /** The order of bends of the sheet that was opened last, until the bending view has taken it up; null when there is none. */
  readonly order: { readonly runId: string; readonly order: readonly OrderedBend[] } | null
}

export const sheetStore = createStore<SheetState>()(() => ({ old: null, order: null }))
