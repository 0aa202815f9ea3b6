import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { Mend } from '../../../checks/mend/mendTypes.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { mendStore } from '../../../store/mendStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'
import { SeeThroughTubes } from './SeeThroughTubes.tsx'

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
  const gap = useMemo((): Vec3[] => [mend.pointA, mend.pointB], [mend])
  const tubes = useMemo(() => [{ route, od: mend.run.tube.od }], [route, mend])
  return (
    <>
      <SeeThroughTubes tubes={tubes} body={colours.accent} opacity={0.3} line={colours.accent} />
      <Dashes points={gap} colour={colours.panel} width={7} />
      <Dashes points={gap} colour={colours.accent} width={3} />
    </>
  )
}
