import { Grid } from '@react-three/drei/core/Grid.js'
import { extend } from '@react-three/fiber'
import { useLayoutEffect, useMemo, useRef } from 'react'
import { DoubleSide, Matrix4, type Mesh, PlaneGeometry, type ShaderMaterial, Vector3 } from 'three'
import { useStore } from 'zustand'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { Box3 } from '../cameraRig.ts'
import { floorGrid } from '../floorGrid.ts'
import { sceneStore } from '../sceneStore.ts'
import type { ThemeColours } from '../themeColours.ts'

// The library's grid is made of it.
extend({ PlaneGeometry })

/** Farther than any skid is seen from: the plane does not fade. mm */
const NO_FADE_MM = 1e7

/** Which world axes a plane's own first, second and third are: always a turn, never a mirror. */
const OWN_AXES = { x: [1, 2, 0], y: [2, 0, 1], z: [0, 1, 2] } as const

/** The plane that the place tool's clicks land on, as a grid in the accent colour. */
export default function WorkPlane({ bounds, colours }: { bounds: Box3; colours: ThemeColours }) {
  const { axis, at } = useStore(sceneStore, s => s.plane)
  const unit = useStore(sessionStore, s => s.unit)
  const { step, strongStep, low, high } = useMemo(() => {
    const own = ([x, y, z]: Vec3) => OWN_AXES[axis].map(k => [x, y, z][k]!) as unknown as Vec3
    return floorGrid({ low: own(bounds.low), high: own(bounds.high) }, at, unit)
  }, [bounds, axis, at, unit])
  const turn = useMemo(() => {
    const [u, v, w] = OWN_AXES[axis].map(k => new Vector3().setComponent(k, 1))
    return new Matrix4().makeBasis(u!, v!, w!)
  }, [axis])
  const mesh = useRef<Mesh>(null)
  // Nothing behind the plane is hidden by it.
  useLayoutEffect(() => {
    if (mesh.current) (mesh.current.material as ShaderMaterial).depthWrite = false
  }, [])
  // The library's lines count from the middle of its plane: that is put on a strong line.
  const middle = [0, 1].map(k => Math.round((low[k]! + high[k]!) / 2 / strongStep) * strongStep)
  const size = [0, 1].map(k => 2 * Math.max(high[k]! - middle[k]!, middle[k]! - low[k]!))
  return (
    <group matrix={turn} matrixAutoUpdate={false}>
      <Grid
        ref={mesh}
        args={[size[0], size[1]]}
        position={[middle[0]!, middle[1]!, at]}
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
    </group>
  )
}
