import { LENGTH_SLACK_MM } from './lengthSlack.ts'
import type { SolvedRoute } from './types.ts'

/**
 * Straights that their bends overrun, numbered from end A from 0, and by how much, mm > 0: such a run cannot be made. A straight of
 * 0 is none of them, whichever way it is rounded.
 */
export const overruns = (
  route: Pick<SolvedRoute, 'straights'>,
): { readonly straight: number; readonly by: number }[] =>
  route.straights.flatMap((s, straight) => (s < -LENGTH_SLACK_MM ? [{ straight, by: 0 - s }] : []))
