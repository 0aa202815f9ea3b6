import { memo, useEffect, useMemo } from 'react'
import {
  BoxGeometry,
  type BufferGeometry,
  type Color,
  CylinderGeometry,
  DoubleSide,
  EdgesGeometry,
  FrontSide,
  Matrix4,
  PlaneGeometry,
  SphereGeometry,
  Vector3,
} from 'three'
import type { Solid } from '../../../document/types.ts'
import { anySquareTo, cross, unit, type Vec3 } from '../../../geometry/vec3.ts'
import type { Box3 } from '../cameraRig.ts'
import { boxAxes } from '../raySolid.ts'
import type { ThemeColours } from '../themeColours.ts'

interface Props {
  readonly solid: Solid
  readonly colours: ThemeColours
  readonly plain: boolean
  /** 'second': the second party of the gap under review. */
  readonly lit: 'selected' | 'second' | 'hovered' | null
  /** Of the scene: a plane is drawn that large. */
  readonly bounds: Box3 | null
}

const v = (p: Vec3) => new Vector3(...p)

/** Geometry with z along the solid's axis, and the matrix that puts it in its place. */
function shapeOf(
  solid: Solid,
  plain: boolean,
  bounds: Box3 | null,
): { shape: BufferGeometry; place: Matrix4 } {
  const around = plain ? 24 : 48
  const upright = (direction: Vec3) => {
    const z = unit(direction) ?? [0, 0, 1]
    const x = anySquareTo(z)
    return new Matrix4().makeBasis(v(x), v(cross(z, x)), v(z))
  }
  switch (solid.shape) {
    case 'box': {
      const [x, y, z] = boxAxes(solid)
      return {
        shape: new BoxGeometry(...solid.size),
        place: new Matrix4().makeBasis(v(x), v(y), v(z)).setPosition(v(solid.at)),
      }
    }
    case 'cylinder': {
      const shape = new CylinderGeometry(solid.radius, solid.radius, solid.length, around)
      return { shape: shape.rotateX(Math.PI / 2), place: upright(solid.axis).setPosition(v(solid.at)) }
    }
    case 'sphere':
      return {
        shape: new SphereGeometry(solid.radius, around, around / 2),
        place: new Matrix4().setPosition(v(solid.at)),
      }
    case 'plane': {
      const wide = bounds ? 1.3 * Math.max(...bounds.high.map((h, k) => h - bounds.low[k]!)) : 1000
      return { shape: new PlaneGeometry(wide, wide), place: upright(solid.normal).setPosition(v(solid.at)) }
    }
  }
}

export function colourOf(solid: Solid, colours: ThemeColours): { colour: Color; opacity: number } {
  switch (solid.kind) {
    case 'equipment':
      return { colour: colours.note, opacity: 0.22 }
    case 'structure':
      return { colour: colours['ink-3'], opacity: 0.26 }
    case 'fitting':
      return { colour: colours['ink-2'], opacity: 0.4 }
    case 'floor':
      return { colour: colours.grid, opacity: 0.25 }
    case 'keepOut':
      return { colour: colours.error, opacity: 0.13 }
  }
}

/** A solid's body and edges, z along its axis, and the matrix that puts them in their place. */
export function bodyOf(solid: Solid, plain: boolean, bounds: Box3 | null) {
  const { shape, place } = shapeOf(solid, plain, bounds)
  return { shape, edges: new EdgesGeometry(shape, 30), place }
}

/** A solid quiet enough to read tubes through: a tinted body and its edges. */
export const SolidBody = memo(function SolidBody({ solid, colours, plain, lit, bounds }: Props) {
  const parts = useMemo(() => bodyOf(solid, plain, bounds), [solid, plain, bounds])
  useEffect(
    () => () => {
      parts.shape.dispose()
      parts.edges.dispose()
    },
    [parts],
  )
  const { colour, opacity } = colourOf(solid, colours)
  const shown = lit === 'second' ? colours.accent : lit ? colours.select : colour
  // After the edges of all, which may lie under its own.
  const order = lit ? 3 : 2
  return (
    <group matrix={parts.place} matrixAutoUpdate={false}>
      <mesh geometry={parts.shape} renderOrder={order}>
        <meshLambertMaterial
          color={shown}
          transparent
          opacity={lit === 'selected' || lit === 'second' ? opacity + 0.15 : opacity}
          depthWrite={false}
          side={solid.shape === 'plane' ? DoubleSide : FrontSide}
        />
      </mesh>
      <lineSegments geometry={parts.edges} renderOrder={order}>
        <lineBasicMaterial color={shown} transparent opacity={lit ? 1 : 0.55} />
      </lineSegments>
    </group>
  )
})
