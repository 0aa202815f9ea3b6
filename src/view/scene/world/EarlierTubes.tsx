import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../../document/types.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { differencesOf, differentRuns } from '../../../store/differences.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { ghostDashes } from '../ghostDashes.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'
import { type GhostOf, SeeThroughTubes } from './SeeThroughTubes.tsx'

/** Of the lines along a tube, px: of all, and of the change in hand. */
const WIDTHS = [1, 2] as const

/**
 * Where two versions differ: tubes of the earlier one see-through with dashes along their outside, and lines without
 * gaps along those of now. The lines of the chosen one are wider; all others are drawn together.
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
  const ghosts = useMemo(() => parted(were, chosen), [were, chosen])
  const lines = useMemo(() => {
    const seen = are.filter(({ run }) => !hidden.has(run))
    return parted(seen, chosen).map(list => list.flatMap(outline))
  }, [are, hidden, chosen])
  return WIDTHS.map((width, i) => (
    <group key={width}>
      {show !== 'earlier' && <Dashes points={lines[i]!} colour={colours.ink} width={width} />}
      {show !== 'now' && ghosts[i]!.length > 0 && (
        <SeeThroughTubes
          tubes={ghosts[i]!}
          body={colours['ink-3']}
          opacity={0.28}
          line={colours.ink}
          under={colours.panel}
          width={width}
        />
      )}
    </group>
  ))
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

/** All but the change in hand, and that one. */
function parted(drawn: readonly Drawn[], chosen: string | null): [Drawn[], Drawn[]] {
  const isChosen = ({ run }: Drawn) => chosen === `run:${run}`
  return [drawn.filter(d => !isChosen(d)), drawn.filter(isChosen)]
}

const outline = ({ route, od }: Drawn): Vec3[] => ghostDashes(route.pieces, od, true)
