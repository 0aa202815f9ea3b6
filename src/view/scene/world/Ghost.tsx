import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import { useStore } from 'zustand'
import type { Mend } from '../../../checks/mend/mendTypes.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { mendStore } from '../../../store/mendStore.ts'
import { ghostDashes } from '../ghostDashes.ts'
import type { ThemeColours } from '../themeColours.ts'
import { PLAIN_DETAIL, tubeMesh } from '../tubeGeometry.ts'
import { Dashes } from './Dashes.tsx'

/** The run as a way to mend it would have it: see-through, in dashes, with the gap that it then has. */
export function Ghost({ colours }: { colours: ThemeColours }) {
  const mend = useStore(mendStore, s => s.shown)
  const document = useStore(documentStore, s => s.settled)
  const route = useMemo(() => (mend ? solveRun(document, mend.run).route : null), [document, mend])
  return mend && route ? <GhostTube mend={mend} route={route} colours={colours} /> : null
}

interface Props {
  readonly mend: Mend
  readonly route: SolvedRoute
  readonly colours: ThemeColours
}

function GhostTube({ mend, route, colours }: Props) {
  const { od } = mend.run.tube
  const geometry = useMemo(() => {
    const { positions, normals, index } = tubeMesh(route.pieces, od, 0, PLAIN_DETAIL)
    const g = new BufferGeometry()
    g.setAttribute('position', new BufferAttribute(positions, 3))
    g.setAttribute('normal', new BufferAttribute(normals, 3))
    g.setIndex(new BufferAttribute(index, 1))
    return g
  }, [route, od])
  useEffect(() => () => geometry.dispose(), [geometry])
  const dashes = useMemo(() => ghostDashes(route.pieces, od), [route, od])
  const gap = useMemo((): Vec3[] => [mend.pointA, mend.pointB], [mend])
  return (
    <>
      <mesh geometry={geometry} renderOrder={2}>
        <meshLambertMaterial color={colours.accent} transparent opacity={0.3} depthWrite={false} />
      </mesh>
      <Dashes points={dashes} colour={colours.accent} width={2} />
      <Dashes points={gap} colour={colours.panel} width={7} />
      <Dashes points={gap} colour={colours.accent} width={3} />
    </>
  )
}
