import type { SolvedRoute } from './types.ts'

/** Straights that their bends overrun, numbered from end A from 0, and by how much, mm > 0: such a run cannot be made. */
export const overruns = (route: SolvedRoute): { readonly straight: number; readonly by: number }[] =>
  route.straights.flatMap((s, straight) => (s < 0 ? [{ straight, by: 0 - s }] : []))
