import { Line } from '@react-three/drei'
import type { Color } from 'three'
import type { Vec3 } from '../../../geometry/vec3.ts'

interface Props {
  /** Pairs of points, mm. */
  readonly points: readonly Vec3[]
  readonly colour: Color
  /** px. */
  readonly width: number
  /** Seen through whatever is in front. Default true. */
  readonly onTop?: boolean
  readonly opacity?: number
  /** mm; 0 (default) draws whole lines. */
  readonly dash?: number
}

/** Lines of a width in px, pair by pair. */
export function Dashes({ points, colour, width, onTop = true, opacity = 1, dash = 0 }: Props) {
  if (points.length < 2) return null
  return (
    <Line
      // Dashed and whole lines are compiled apart: a change of kind wants a new one.
      key={dash > 0 ? 'dashed' : 'whole'}
      segments
      points={points as [number, number, number][]}
      color={colour}
      lineWidth={width}
      depthTest={!onTop}
      transparent
      opacity={opacity}
      dashed={dash > 0}
      dashSize={dash}
      gapSize={dash * 0.7}
      renderOrder={3}
      frustumCulled={false}
    />
  )
}
