import { memo, useEffect, useMemo } from 'react'
import { type BufferGeometry, EdgesGeometry, ExtrudeGeometry, Matrix4, Shape, Vector3 } from 'three'
import type { Run, Support } from '../../../document/types.ts'
import type { SolvedRun } from '../../../solve/types.ts'
import { type SupportStand, supportStand } from '../supportStand.ts'
import type { ThemeColours } from '../themeColours.ts'

interface Props {
  readonly support: Support
  readonly run: Run
  readonly solved: SolvedRun
  readonly colours: ThemeColours
  readonly lit: 'selected' | 'hovered' | null
}

/** A plain saddle under the tube: a foot, and a block with a round seat that holds the lower half. */
export const SupportBody = memo(function SupportBody({ support, run, solved, colours, lit }: Props) {
  const { od } = run.tube
  const parts = useMemo(() => {
    const shape = saddle(od)
    return { shape, edges: new EdgesGeometry(shape, 30) }
  }, [od])
  useEffect(
    () => () => {
      parts.shape.dispose()
      parts.edges.dispose()
    },
    [parts],
  )
  const matrix = useMemo(() => placed(supportStand(support, od, solved.route)), [support, od, solved])
  const shown = lit ? colours.select : colours['ink-2']
  return (
    <group matrix={matrix} matrixAutoUpdate={false}>
      <mesh geometry={parts.shape}>
        <meshLambertMaterial color={shown} />
      </mesh>
      <lineSegments geometry={parts.edges}>
        <lineBasicMaterial color={lit === 'selected' ? colours.ink : shown} />
      </lineSegments>
    </group>
  )
})

/** Across x, up y with the tube's centre at the origin, along the tube z; mm. */
function saddle(od: number): BufferGeometry {
  const r = od / 2
  const [half, foot, low] = [0.8 * od, 1.3 * od, -1.1 * od]
  const shape = new Shape()
  shape.moveTo(-foot, low)
  shape.lineTo(foot, low)
  shape.lineTo(foot, low + 0.25 * od)
  shape.lineTo(half, low + 0.25 * od)
  shape.lineTo(half, 0)
  shape.lineTo(r, 0)
  shape.absarc(0, 0, r, 0, -Math.PI, true)
  shape.lineTo(-half, 0)
  shape.lineTo(-half, low + 0.25 * od)
  shape.lineTo(-foot, low + 0.25 * od)
  const length = 1.2 * od
  return new ExtrudeGeometry(shape, { depth: length, bevelEnabled: false, curveSegments: 10 }).translate(
    0,
    0,
    -length / 2,
  )
}

const placed = ({ at, along, up, across }: SupportStand): Matrix4 =>
  new Matrix4()
    .makeBasis(new Vector3(...across), new Vector3(...up), new Vector3(...along))
    .setPosition(new Vector3(...at))
