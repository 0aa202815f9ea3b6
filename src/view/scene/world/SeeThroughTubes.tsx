import { useEffect, useMemo } from 'react'
import type { BufferGeometry, Color } from 'three'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { ghostDashes, middleLine } from '../ghostDashes.ts'
import { together } from '../together.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import { detailForMany, tubeMesh } from '../tubeGeometry.ts'
import { Dashes } from './Dashes.tsx'

export interface GhostOf {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
}
interface Props {
  /** Drawn together: the same list stays drawn as it is. */
  readonly tubes: readonly GhostOf[]
  readonly body: Color
  readonly opacity: number
  readonly line: Color
  /** Drawn wider under the dashes, so that they stand out from what is behind; none when left out. */
  readonly under?: Color
  /** Of the dashes, px; 2 (default). */
  readonly width?: number
  /** One dashed line along the middle instead of four along the outside: for many tubes. */
  readonly inMiddle?: boolean
}

/** Of a line along the middle, mm. */
const DASH = 40

/** Tubes that are not there (any more, or yet): see-through, with dashes along them seen through everything. */
export function SeeThroughTubes(props: Props) {
  const { tubes, body, opacity, line, under, width = 2, inMiddle = false } = props
  const geometry = useMemo(() => buffersOf(tubes), [tubes])
  useEffect(() => () => geometry.dispose(), [geometry])
  const dashes = useMemo(
    (): Vec3[] =>
      tubes.flatMap(({ route, od }) =>
        inMiddle ? middleLine(route.pieces, DASH) : ghostDashes(route.pieces, od),
      ),
    [tubes, inMiddle],
  )
  return (
    <>
      <mesh geometry={geometry} renderOrder={2}>
        <meshLambertMaterial color={body} transparent opacity={opacity} depthWrite={false} />
      </mesh>
      {under && <Dashes points={dashes} colour={under} width={width + 3} />}
      <Dashes points={dashes} colour={line} width={width} />
    </>
  )
}

function buffersOf(tubes: readonly GhostOf[]): BufferGeometry {
  const { detail } = detailForMany(
    tubes.map(t => t.route.pieces),
    true,
  )
  const meshes = tubes.map(({ route, od }) => tubeMesh(route.pieces, od, 0, detail))
  return tubeBuffers(together(meshes))
}
