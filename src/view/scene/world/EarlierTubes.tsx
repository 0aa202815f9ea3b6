import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import { useStore } from 'zustand'
import { compareDocuments } from '../../../checks/compareDocuments.ts'
import type { Run } from '../../../document/types.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { ghostDashes } from '../ghostDashes.ts'
import type { ThemeColours } from '../themeColours.ts'
import { PLAIN_DETAIL, tubeMesh } from '../tubeGeometry.ts'
import { Dashes } from './Dashes.tsx'

/** Tubes of the earlier version that are no longer so: see-through, with a dashed centre line seen through everything. */
export default function EarlierTubes({ colours }: { readonly colours: ThemeColours }) {
  const earlier = useStore(compareStore, s => s.earlier)
  const show = useStore(compareStore, s => s.show)
  const document = useStore(documentStore, s => s.settled)
  const tubes = useMemo(() => {
    if (!earlier) return []
    const { changed, removed } = compareDocuments(earlier.document, document)
    const wanted = new Set([...changed.map(c => c.runId), ...removed.map(r => r.id)])
    return earlier.document.runs.flatMap(run => {
      const { route } = wanted.has(run.id) ? solveRun(earlier.document, run) : { route: null }
      return route ? [{ run, route }] : []
    })
  }, [earlier, document])
  if (show === 'now') return null
  return tubes.map(({ run, route }) => <EarlierTube key={run.id} run={run} route={route} colours={colours} />)
}

interface Props {
  readonly run: Run
  readonly route: SolvedRoute
  readonly colours: ThemeColours
}

function EarlierTube({ run, route, colours }: Props) {
  const { od } = run.tube
  const geometry = useMemo(() => {
    const { positions, normals, index } = tubeMesh(route.pieces, od, 0, PLAIN_DETAIL)
    const g = new BufferGeometry()
    g.setAttribute('position', new BufferAttribute(positions, 3))
    g.setAttribute('normal', new BufferAttribute(normals, 3))
    g.setIndex(new BufferAttribute(index, 1))
    return g
  }, [route, od])
  useEffect(() => () => geometry.dispose(), [geometry])
  const dashes = useMemo((): Vec3[] => ghostDashes(route.pieces, od), [route, od])
  return (
    <>
      <mesh geometry={geometry} renderOrder={2}>
        <meshLambertMaterial color={colours['ink-3']} transparent opacity={0.28} depthWrite={false} />
      </mesh>
      <Dashes points={dashes} colour={colours.panel} width={5} />
      <Dashes points={dashes} colour={colours.ink} width={2} />
    </>
  )
}
