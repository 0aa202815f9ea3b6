import { memo, useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, type Color } from 'three'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { FloorGrid } from '../floorGrid.ts'
import type { ThemeColours } from '../themeColours.ts'

export const Floor = memo(function Floor({ grid, colours }: { grid: FloorGrid; colours: ThemeColours }) {
  return (
    <>
      <Lines points={grid.fine} colour={colours.grid} opacity={0.5} />
      <Lines points={grid.strong} colour={colours['grid-strong']} opacity={0.6} />
    </>
  )
})

function Lines({ points, colour, opacity }: { points: readonly Vec3[]; colour: Color; opacity: number }) {
  const geometry = useMemo(() => {
    const g = new BufferGeometry()
    g.setAttribute('position', new BufferAttribute(new Float32Array(points.flat()), 3))
    return g
  }, [points])
  useEffect(() => () => geometry.dispose(), [geometry])
  return (
    <lineSegments geometry={geometry}>
      <lineBasicMaterial color={colour} transparent opacity={opacity} depthWrite={false} />
    </lineSegments>
  )
}
