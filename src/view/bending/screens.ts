import { isHalfTurn, type Layout } from '../../bender/layOut.ts'
import { putInAnew } from '../../bender/tubeAtDie.ts'
import { wayOfTurn } from '../../outputs/turnWords.ts'

/**
 * One screen of the bending view: one thing to do. `step` counts the bends in their order of work.
 * 'short' and 'readShort' are the habit of stopping early: bend to a few degrees short, measure, go on.
 */
export type Screen =
  | { readonly kind: 'cut' }
  | {
      readonly kind: 'around' | 'slide' | 'turn' | 'short' | 'readShort' | 'bend' | 'measure'
      readonly step: number
    }
  | { readonly kind: 'finished' }

export type ScreenKind = Screen['kind']

/** On which bends the first stop is short: the first only (one trial is enough), every one, or none. */
export type StopShort = 'first' | 'every' | 'never'

/** The screens from stock to finished tube, in order. */
export function screensOf(layout: Layout, stopShort: StopShort): Screen[] {
  const screens: Screen[] = [{ kind: 'cut' }]
  layout.steps.forEach((s, step) => {
    const short = stopShort === 'every' || (stopShort === 'first' && step === 0)
    if (s.turnedAround) screens.push({ kind: 'around', step })
    const slide: Screen = { kind: 'slide', step }
    const turn: Screen[] = wayOfTurn(s.turn) !== 0 ? [{ kind: 'turn', step }] : []
    // What is put in from above is turned outside, before it goes in.
    screens.push(...(putInAnew(layout, step) ? [...turn, slide] : [slide, ...turn]))
    if (short) screens.push({ kind: 'short', step }, { kind: 'readShort', step })
    screens.push({ kind: 'bend', step }, { kind: 'measure', step })
  })
  screens.push({ kind: 'finished' })
  return screens
}

/** True on the first screen of a step: the one on which a tube that does not stay in is taken out. */
export const beginsStep = (screens: readonly Screen[], screen: Screen): boolean =>
  'step' in screen && screens.find(s => 'step' in s && s.step === screen.step) === screen

/** Where a screen of one list is in another: the same thing to do, or what comes first for its bend. */
export function sameScreen(screen: Screen, screens: readonly Screen[]): number {
  const same = screens.findIndex(
    s => s.kind === screen.kind && ('step' in s ? s.step : -1) === ('step' in screen ? screen.step : -1),
  )
  if (same >= 0 || !('step' in screen)) return Math.max(0, same)
  // A short stop that is not made any more: the bend itself is.
  const kind = screen.kind === 'readShort' || screen.kind === 'short' ? 'bend' : null
  const first = screens.findIndex(s => 'step' in s && s.step === screen.step && (!kind || s.kind === kind))
  return first >= 0 ? first : screens.length - 1
}

/** Which way to turn, seen from the tail towards the bender. */
export function turnInWords(turn: number | null): string {
  const way = wayOfTurn(turn)
  if (way === 0) return 'no rotation, same direction'
  return `${isHalfTurn(turn) ? 'half turn, ' : ''}${way > 0 ? 'clockwise ↻' : 'counter-clockwise ↺'}`
}
