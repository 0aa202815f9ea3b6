import type { BenderKindName } from '../../document/benderKinds.ts'
import type { BenderKind } from './benderKind.ts'
import { compression } from './compression.ts'
import { rotaryDraw } from './rotaryDraw.ts'

/** What each kind does. A kind that a document may name and that is forgotten here does not compile. */
export const KINDS: Readonly<Record<BenderKindName, BenderKind>> = { rotaryDraw, compression }

/** Degrees about +z (up, seen from above counter-clockwise) that the arm turns for one degree of bend. */
export const armSense = ({
  hand,
  kind,
}: {
  readonly hand: 'left' | 'right'
  readonly kind: BenderKindName
}): 1 | -1 => ((hand === 'left') === (KINDS[kind].armTakes === 'front') ? 1 : -1)
