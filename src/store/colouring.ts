import { createStore } from 'zustand/vanilla'

/** What the tubes' colours tell: nothing, the worst finding of the run, its tube, or what flows in it. */
export type ColourBy = 'none' | 'state' | 'size' | 'service'

/** Of this page alone: no file holds it. */
export const colouringStore = createStore<{ readonly by: ColourBy }>()(() => ({ by: 'none' }))
