import { createStore } from 'zustand/vanilla'

/** Whether the browser's own storage holds the document as it is now. Times are milliseconds since 1970. */
export type Keeping =
  | { readonly kind: 'unchanged' }
  | { readonly kind: 'underWay' }
  | { readonly kind: 'kept'; readonly at: number }
  | { readonly kind: 'refused'; readonly reason: string }

export interface SavingState {
  readonly keeping: Keeping
  /** The file that Save writes to, or null when the document was never in one. */
  readonly fileName: string | null
  /** When that file was last written or read. */
  readonly fileAt: number | null
  /** True when this tab works on a copy because another tab has the document. */
  readonly ownCopy: boolean
  /** True when the user changed something in it since it was made, opened from a file or taken from the samples. */
  readonly isChanged: boolean
  /** Whether the browser has promised not to clear its storage when the disk runs short; null: not known yet. */
  readonly isPromised: boolean | null
}

export const savingStore = createStore<SavingState>()(() => ({
  keeping: { kind: 'unchanged' },
  fileName: null,
  fileAt: null,
  ownCopy: false,
  isChanged: false,
  isPromised: null,
}))
