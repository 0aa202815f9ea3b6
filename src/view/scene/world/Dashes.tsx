import { useEffect, useMemo } from 'react'
import type { Color } from 'three'
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { lineMaterial } from '../lineMaterials.ts'

interface Props {
  /** Pairs of points, mm. */
  readonly points: readonly Vec3[]
  readonly colour: Color
  /** px. */
  readonly width: number
  /** Seen through whatever is in front. Default true. */
  readonly onTop?: boolean
  readonly opacity?: number
}

/** Lines of a width in px, pair by pair. */
export function Dashes(p: Props) {
  return p.points.length < 2 ? null : <Lines {...p} />
}

function Lines({ points, colour, width, onTop = true, opacity = 1 }: Props) {
  const material = lineMaterial({ colour, width, onTop, opacity })
  const geometry = useMemo(() => new LineSegmentsGeometry().setPositions(points.flat()), [points])
  useEffect(() => () => geometry.dispose(), [geometry])
  const lines = useMemo(() => {
    const made = new LineSegments2()
    made.frustumCulled = false
    made.renderOrder = 3
    return made
  }, [])
  return <primitive object={lines} geometry={geometry} material={material} />
}
