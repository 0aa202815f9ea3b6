import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../../document/types.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { differencesOf, differentRuns } from '../../../store/differences.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { ghostDashes, middleLine } from '../ghostDashes.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'
import { type GhostOf, SeeThroughTubes } from './SeeThroughTubes.tsx'

/** Past so many that differ each has one line along its middle: all lines of all would take seconds to draw. */
const FEW = 60

/**
 * Where two versions differ: tubes of the earlier one see-through with dashes along their outside, and lines without
 * gaps along those of now, all drawn together. Over them stands the change in hand, with wider lines.
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
  const inMiddle = were.length + are.length > FEW
  const seen = useMemo(() => are.filter(({ run }) => !hidden.has(run)), [are, hidden])
  const lines = useMemo(
    () => seen.flatMap(d => (inMiddle ? middleLine(d.route.pieces) : outline(d))),
    [seen, inMiddle],
  )
  const ghostInHand = useMemo(() => were.filter(isChosen(chosen)), [were, chosen])
  const linesInHand = useMemo(() => seen.filter(isChosen(chosen)).flatMap(outline), [seen, chosen])
  const ghost = {
    body: colours['ink-3'],
    opacity: 0.28,
    line: colours.ink,
  }
  return (
    <>
      {show !== 'earlier' && (
        <>
          <Dashes points={lines} colour={colours.ink} width={1} />
          <Dashes points={linesInHand} colour={colours.ink} width={2} />
        </>
      )}
      {show !== 'now' && were.length > 0 && (
        <SeeThroughTubes
          tubes={were}
          {...ghost}
          {...(inMiddle ? {} : { under: colours.panel })}
          width={1}
          inMiddle={inMiddle}
        />
      )}
      {show !== 'now' && ghostInHand.length > 0 && (
        <SeeThroughTubes tubes={ghostInHand} {...ghost} under={colours.panel} />
      )}
    </>
  )
}

interface Drawn extends GhostOf {
  readonly run: string
}

function routesOf(document: SkidDocument, ids: readonly string[]): Drawn[] {
  const wanted = new Set(ids)
  return document.runs.flatMap(run => {
    const { route } = wanted.has(run.id) ? solveRun(document, run) : { route: null }
    return route ? [{ run: run.id, od: run.tube.od, route }] : []
  })
}

const isChosen =
  (chosen: string | null) =>
  ({ run }: Drawn) =>
    chosen === `run:${run}`

const outline = ({ route, od }: Drawn): Vec3[] => ghostDashes(route.pieces, od, true)
