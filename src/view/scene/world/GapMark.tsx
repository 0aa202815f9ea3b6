import { useMemo } from 'react'
import { useStore } from 'zustand'
import { addScaled, distance, type Vec3 } from '../../../geometry/vec3.ts'
import { mendStore } from '../../../store/mendStore.ts'
import type { ShownGap } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** Half the arms of the cross that stands where two things meet in one point: about as large as a small tube. mm */
const ARM_MM = 5

/** The ends of what is drawn for a gap, pairs: a line between its nearest points, or a cross where both are one. */
function pairsOf({ from, to }: ShownGap): Vec3[] {
  if (distance(from, to) > 1e-3) return [from, to]
  return AXES.flatMap(axis => [addScaled(from, axis, -ARM_MM), addScaled(from, axis, ARM_MM)])
}
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

const COLOURS = { error: 'error', warning: 'warning', ok: 'accent' } as const

/** The dimension of a gap: a line between its nearest points, seen through everything; a ghost brings its own. */
export function GapMark({ gap, colours }: { readonly gap: ShownGap; readonly colours: ThemeColours }) {
  const points = useMemo(() => pairsOf(gap), [gap])
  const isMended = useStore(mendStore, s => s.shown !== null)
  if (isMended) return null
  return (
    <>
      <Dashes points={points} colour={colours.panel} width={7} />
      <Dashes points={points} colour={colours[COLOURS[gap.state]]} width={3} />
    </>
  )
}
