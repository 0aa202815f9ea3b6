import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../../document/types.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { SolvedRoute } from '../../../solve/types.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { differencesOf, differentRuns } from '../../../store/differences.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { ghostDashes } from '../ghostDashes.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'
import { SeeThroughTube } from './SeeThroughTube.tsx'

/**
 * Where two versions differ: tubes of the earlier one see-through with dashes along their outside, and lines without
 * gaps along those of now. The lines of the chosen one are wider.
 */
export default function EarlierTubes({ colours }: { readonly colours: ThemeColours }) {
  const earlier = useStore(compareStore, s => s.earlier)
  const show = useStore(compareStore, s => s.show)
  const chosen = useStore(compareStore, s => s.chosen)
  const document = useStore(documentStore, s => s.settled)
  const hidden = useStore(sessionStore, s => s.hiddenRuns)
  const { were, are } = useMemo(() => {
    if (!earlier) return { were: [], are: [] }
    const found = differencesOf(earlier.document, document)
    const old = [...found.changed.map(c => c.runId), ...found.removed.map(r => r.id)]
    return { were: routesOf(earlier.document, old), are: routesOf(document, differentRuns(found)) }
  }, [earlier, document])
  const width = (run: string) => (chosen === `run:${run}` ? 2 : 1)
  return (
    <>
      {show !== 'earlier' &&
        are
          .filter(({ run }) => !hidden.has(run))
          .map(({ run, od, route }) => (
            <Outlined key={run} route={route} od={od} colours={colours} width={width(run)} />
          ))}
      {show !== 'now' &&
        were.map(({ run, od, route }) => (
          <SeeThroughTube
            key={run}
            route={route}
            od={od}
            body={colours['ink-3']}
            opacity={0.28}
            line={colours.ink}
            under={colours.panel}
            width={width(run)}
          />
        ))}
    </>
  )
}

interface Drawn {
  readonly run: string
  readonly od: number
  readonly route: SolvedRoute
}

function routesOf(document: SkidDocument, ids: readonly string[]): Drawn[] {
  const wanted = new Set(ids)
  return document.runs.flatMap(run => {
    const { route } = wanted.has(run.id) ? solveRun(document, run) : { route: null }
    return route ? [{ run: run.id, od: run.tube.od, route }] : []
  })
}

interface OutlinedProps {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
  readonly colours: ThemeColours
  /** px */
  readonly width: number
}

function Outlined({ route, od, colours, width }: OutlinedProps) {
  const lines = useMemo(() => ghostDashes(route.pieces, od, true), [route, od])
  return <Dashes points={lines} colour={colours.ink} width={width} />
}
