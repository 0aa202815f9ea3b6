import { Grid } from '@react-three/drei/core/Grid.js'
import { extend } from '@react-three/fiber'
import { useLayoutEffect, useMemo, useRef } from 'react'
import { DoubleSide, type Mesh, PlaneGeometry, type ShaderMaterial } from 'three'
import { useStore } from 'zustand'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { Box3 } from '../cameraRig.ts'
import { floorGrid } from '../floorGrid.ts'
import { sceneStore } from '../sceneStore.ts'
import type { ThemeColours } from '../themeColours.ts'

// The library's grid is made of it.
extend({ PlaneGeometry })

/** Farther than any skid is seen from: the plane does not fade. mm */
const NO_FADE_MM = 1e7

/** The level plane that the place tool's clicks land on, as a grid in the accent colour. */
export default function WorkPlane({ bounds, colours }: { bounds: Box3; colours: ThemeColours }) {
  const z = useStore(sceneStore, s => s.planeZ)
  const unit = useStore(sessionStore, s => s.unit)
  const { step, strongStep, low, high } = useMemo(() => floorGrid(bounds, z, unit), [bounds, z, unit])
  const mesh = useRef<Mesh>(null)
  // Nothing behind the plane is hidden by it.
  useLayoutEffect(() => {
    if (mesh.current) (mesh.current.material as ShaderMaterial).depthWrite = false
  }, [])
  // The library's lines count from the middle of its plane: that is put on a strong line.
  const middle = [0, 1].map(k => Math.round((low[k]! + high[k]!) / 2 / strongStep) * strongStep)
  const size = [0, 1].map(k => 2 * Math.max(high[k]! - middle[k]!, middle[k]! - low[k]!))
  return (
    <Grid
      ref={mesh}
      args={[size[0], size[1]]}
      position={[middle[0]!, middle[1]!, z]}
      rotation={[Math.PI / 2, 0, 0]}
      renderOrder={3}
      side={DoubleSide}
      cellSize={step}
      sectionSize={strongStep}
      cellThickness={0.3}
      sectionThickness={0.7}
      cellColor={colours.accent}
      sectionColor={colours.accent}
      fadeDistance={NO_FADE_MM}
    />
  )
}
