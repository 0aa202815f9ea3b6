import { createStore } from 'zustand/vanilla'
import { sessionStore } from './sessionStore.ts'

/** What is folded out over the picture. Measuring is a tool of the session, so it is not listed here. */
export type LookPanel = 'section' | 'measure' | 'viewpoints'

export interface LookState {
  readonly panel: Exclude<LookPanel, 'measure'> | null
  /** Raised when the panel that is opened should take the focus: a key opened it. */
  readonly focusSerial: number
}

export const lookStore = createStore<LookState>()(() => ({ panel: null, focusSerial: 0 }))

/** The panel that shows now. */
export const shownPanel = (): LookPanel | null =>
  sessionStore.getState().tool === 'measure' ? 'measure' : lookStore.getState().panel

/** Folds out one panel and folds in any other; null folds in all. Measuring lasts as long as its panel. */
export function showPanel(panel: LookPanel | null): void {
  const { tool, set } = sessionStore.getState()
  lookStore.setState(s => ({ panel: panel === 'measure' ? null : panel, focusSerial: s.focusSerial + 1 }))
  if (panel === 'measure') set({ tool: 'measure' })
  else if (tool === 'measure') set({ tool: 'pick' })
}
