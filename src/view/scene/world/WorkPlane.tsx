import { useMemo } from 'react'
import { useStore } from 'zustand'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { Box3 } from '../cameraRig.ts'
import { floorGrid } from '../floorGrid.ts'
import { sceneStore } from '../sceneStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** The level plane that the place tool's clicks land on, as a grid in the accent colour. */
export function WorkPlane({ bounds, colours }: { bounds: Box3; colours: ThemeColours }) {
  const z = useStore(sceneStore, s => s.planeZ)
  const unit = useStore(sessionStore, s => s.unit)
  const grid = useMemo(() => floorGrid(bounds, z, unit), [bounds, z, unit])
  return (
    <>
      <Dashes points={grid.fine} colour={colours.accent} width={1} opacity={0.12} onTop={false} />
      <Dashes points={grid.strong} colour={colours.accent} width={1} opacity={0.4} onTop={false} />
    </>
  )
}
