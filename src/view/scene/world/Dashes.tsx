import { useEffect, useMemo } from 'react'
import type { Color } from 'three'
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js'
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js'
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
  const lines = useMemo(() => {
    const material = new LineMaterial({ worldUnits: false })
    material.resolution.set(1, 1)
    const object = new LineSegments2(new LineSegmentsGeometry(), material)
    object.frustumCulled = false
    object.renderOrder = 3
    return object
  }, [])
  useEffect(
    () => () => {
      lines.geometry.dispose()
      lines.material.dispose()
    },
    [lines],
  )
  useMemo(() => {
    lines.geometry.dispose()
    lines.geometry = new LineSegmentsGeometry()
    if (points.length > 1) {
      lines.geometry.setPositions(points.flat())
      if (dash > 0) lines.computeLineDistances()
    }
    lines.visible = points.length > 1
  }, [lines, points, dash])
  const m = lines.material
  m.color.copy(colour)
  m.linewidth = width
  m.depthTest = !onTop
  m.transparent = true
  m.opacity = opacity
  if (m.dashed !== dash > 0) {
    m.dashed = dash > 0
    m.needsUpdate = true
  }
  m.dashSize = dash
  m.gapSize = dash * 0.7
  return <primitive object={lines} />
}
