import type { Fitting, Run } from '../document/types.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'

/**
 * How far outside the port's face, or from a free end, the insulation begins at end A and at end B, mm: the run's own figure, else
 * the straight that the port's nut needs, so that a wrench gets there; nothing at a free end.
 */
export function insulationCutBack(
  run: Pick<Run, 'endA' | 'endB' | 'insulationCutBack'>,
  fittings: ReadonlyMap<string, Pick<Fitting, 'straightNeeded'>>,
): readonly [number, number] {
  const at = (end: Run['endA']): number =>
    run.insulationCutBack ?? (end.kind === 'port' ? (fittings.get(end.fitting)?.straightNeeded ?? 0) : 0)
  return [at(run.endA), at(run.endB)]
}

/**
 * From where to where along a tube of `whole` mm its insulation goes, or null when nothing is left of it: cut-backs that meet leave none,
 * whichever way their sum is rounded.
 */
export function sleeveOf(
  cutBack: readonly [number, number],
  whole: number,
): { readonly from: number; readonly to: number } | null {
  const [from, to] = [cutBack[0], whole - cutBack[1]]
  return to - from > LENGTH_SLACK_MM ? { from, to } : null
}
