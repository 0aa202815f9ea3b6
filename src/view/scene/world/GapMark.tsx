import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { mendStore } from '../../../store/mendStore.ts'
import type { ShownGap } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** The dimension of a gap: a line between its nearest points, seen through everything; a ghost brings its own. */
export function GapMark({ gap, colours }: { readonly gap: ShownGap; readonly colours: ThemeColours }) {
  const points = useMemo((): Vec3[] => [gap.from, gap.to], [gap])
  const isMended = useStore(mendStore, s => s.shown !== null)
  if (isMended) return null
  return (
    <>
      <Dashes points={points} colour={colours.panel} width={7} />
      <Dashes points={points} colour={colours.error} width={3} />
    </>
  )
}
