import { useEffect, useMemo } from 'react'
import type { Color } from 'three'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { ghostDashes } from '../ghostDashes.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import { PLAIN_DETAIL, tubeMesh } from '../tubeGeometry.ts'
import { Dashes } from './Dashes.tsx'

interface Props {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
  readonly body: Color
  readonly opacity: number
  readonly line: Color
  /** Drawn wider under the dashes, so that they stand out from what is behind; none when left out. */
  readonly under?: Color
  /** Of the dashes, px; 2 (default). */
  readonly width?: number
}

/** A tube that is not there (any more, or yet): see-through, with a dashed centre line seen through everything. */
export function SeeThroughTube({ route, od, body, opacity, line, under, width = 2 }: Props) {
  const geometry = useMemo(() => tubeBuffers(tubeMesh(route.pieces, od, 0, PLAIN_DETAIL)), [route, od])
  useEffect(() => () => geometry.dispose(), [geometry])
  const dashes = useMemo((): Vec3[] => ghostDashes(route.pieces, od), [route, od])
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
