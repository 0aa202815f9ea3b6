import { memo, useMemo } from 'react'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

interface Props {
  readonly points: readonly Vec3[]
  readonly colours: ThemeColours
  /** The route cannot be solved: all there is to show of it is its sharp line, in red. */
  readonly broken: boolean
  readonly inHand: boolean
}

/** The route's sharp polyline. */
export const RouteLine = memo(function RouteLine({ points, colours, broken, inHand }: Props) {
  const pairs = useMemo(
    () => points.slice(1).flatMap((p, i): Vec3[] => (p.every(Number.isFinite) ? [points[i]!, p] : [])),
    [points],
  )
  return (
    <Dashes
      points={pairs}
      colour={broken ? colours.error : inHand ? colours.accent : colours['ink-3']}
      width={broken ? 3 : 1}
      opacity={broken ? 1 : inHand ? 0.7 : 0.4}
    />
  )
})
