import { useMemo } from 'react'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { ShownGap } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** The dimension of a gap: a line between its nearest points, seen through everything. */
export function GapMark({ gap, colours }: { readonly gap: ShownGap; readonly colours: ThemeColours }) {
  const points = useMemo((): Vec3[] => [gap.from, gap.to], [gap])
  return (
    <>
      <Dashes points={points} colour={colours.panel} width={7} />
      <Dashes points={points} colour={colours.error} width={3} />
    </>
  )
}
