import { createStore } from 'zustand/vanilla'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'

/** Which of two versions is drawn where they differ. */
export type ShownVersion = 'earlier' | 'now' | 'both'

export interface CompareState {
  /** The version that the open document is compared with, or null. */
  readonly earlier: { readonly name: string; readonly document: SkidDocument } | null
  readonly show: ShownVersion
  /** Findings of the earlier version: worked out in a worker. */
  readonly checked:
    | { readonly state: 'checking' }
    | { readonly state: 'done'; readonly findings: readonly Finding[] }
    | { readonly state: 'failed'; readonly reason: string }
  /** The change in hand, as a row of the list of changes; see changeRows. */
  readonly chosen: string | null
  /** Why the last comparison ended without anybody's ending it; '' when it did not. */
  readonly ended: string
}

/** What the picture needs to know; what fills it is in comparing.ts, which is loaded with reviewing. */
export const compareStore = createStore<CompareState>()(() => ({
  earlier: null,
  show: 'both',
  checked: { state: 'checking' },
  chosen: null,
  ended: '',
}))
