import { useMemo } from 'react'
import { useStore } from 'zustand'
import { compareDocuments } from '../../../checks/compareDocuments.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { documentStore } from '../../../store/documentStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { SeeThroughTube } from './SeeThroughTube.tsx'

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
  return tubes.map(({ run, route }) => (
    <SeeThroughTube
      key={run.id}
      route={route}
      od={run.tube.od}
      body={colours['ink-3']}
      opacity={0.28}
      line={colours.ink}
      under={colours.panel}
    />
  ))
}
