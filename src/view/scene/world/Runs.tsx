import { useThree } from '@react-three/fiber'
import { lazy, Suspense, useEffect, useMemo } from 'react'
import type { Color } from 'three'
import { useStore } from 'zustand'
import type { Run, SkidDocument } from '../../../document/types.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { routePoints } from '../../../solve/solveRun.ts'
import type { SolvedRun } from '../../../solve/types.ts'
import { solvedRuns } from '../../../store/derived.ts'
import { runSelectionStore } from '../../../store/runSelection.ts'
import { runIdOf, sessionStore } from '../../../store/sessionStore.ts'
import { useColouring } from '../../colouring/useColouring.ts'
import type { ThemeColours } from '../themeColours.ts'
import type { BandCode } from '../tubeBands.ts'
import { Dashes } from './Dashes.tsx'
import { RouteLine } from './RouteLines.tsx'
import { type TubeLook, TubeOfRun } from './Tubes.tsx'

/** Loaded with the first large skid. */
const ManyTubes = lazy(async () => ({ default: (await import('./ManyTubes.tsx')).ManyTubes }))

/** Up to this many runs each is drawn by itself in full detail; beyond it only those that somebody points at. */
const FEW = 40

interface Props {
  readonly document: SkidDocument
  readonly colours: ThemeColours
  readonly plain: boolean
}

/** All tubes: what is in hand, pointed at or under review by itself, the others of a large skid together. */
export function Runs({ document, colours, plain }: Props) {
  const { runs } = document
  const selection = useStore(sessionStore, s => s.selection)
  const hover = useStore(sessionStore, s => s.hover)
  const hoverWith = useStore(sessionStore, s => s.hoverWith)
  const runInHand = useStore(sessionStore, s => s.runInHand)
  const showRoute = useStore(sessionStore, s => s.showRoute && s.mode === 'layingOut')
  const hidden = useStore(sessionStore, s => s.hiddenRuns)
  const gap = useStore(sessionStore, s => s.gap)
  const solved = solvedRuns(document)
  const picked = useStore(runSelectionStore, s => s.picked)
  const lookOf = useLooks(colours, runs.length > FEW)
  // Colours are written into buffers that are there already: nothing else says that the picture has changed.
  const invalidate = useThree(s => s.invalidate)
  useEffect(() => invalidate())

  const many = runs.length > FEW
  const [selectedRun, hoveredRun, otherRun] = [runIdOf(selection), runIdOf(hover), runIdOf(hoverWith)]
  const apart = useMemo(
    () =>
      new Set(
        [runInHand, selectedRun, hoveredRun, otherRun, ...(gap?.between ?? [])].filter(id => id !== null),
      ),
    [runInHand, selectedRun, hoveredRun, otherRun, gap],
  )
  const broken = useMemo(() => brokenLines(document, solved, hidden), [document, solved, hidden])
  const inHand = runs.findIndex(r => r.id === runInHand)
  const routeInHand = runInHand !== null && !hidden.has(runInHand) && solved[inHand]?.route

  return (
    <>
      {many && (
        <Suspense fallback={null}>
          <ManyTubes
            runs={runs}
            solved={solved}
            hidden={hidden}
            apart={apart}
            lookOf={lookOf}
            colours={colours}
            plain={plain}
            faded={gap !== null}
          />
        </Suspense>
      )}
      {runs.map((run, i) => {
        const route = solved[i]?.route
        if (!route || hidden.has(run.id) || (many && !apart.has(run.id))) return null
        return (
          <TubeOfRun
            key={run.id}
            run={run}
            route={route}
            colours={colours}
            plain={plain}
            look={lookOf(run)}
            faded={gap !== null && !gap.between.includes(run.id)}
            inGap={gap?.between[0] === run.id ? 'first' : gap?.between[1] === run.id ? 'second' : null}
            picked={picked.has(run.id)}
            selected={selectedRun === run.id ? selection : null}
            hovered={hoveredRun === run.id ? hover : otherRun === run.id ? hoverWith : null}
          />
        )
      })}
      {showRoute && routeInHand && (
        <RouteLine points={routeInHand.points} colours={colours} broken={false} inHand />
      )}
      <Dashes points={broken} colour={colours.error} width={3} />
    </>
  )
}

/**
 * What each run's tube looks like: of its group's colour and bands, or as all are. What is picked has a colour of its
 * own, but not where that would hide its group's: there a line round it says so.
 *
 * @param together many are drawn in one, without lines round them: then the colour has to say it.
 */
function useLooks(colours: ThemeColours, together: boolean): (run: Run) => TubeLook {
  const groups = useColouring()
  const picked = useStore(runSelectionStore, s => s.picked)
  // Apart from the groups, which every move of a point makes anew: a tube whose look is another object is coloured anew.
  const { plain, of } = useMemo(() => {
    const known = new Map<Color, TubeLook>()
    return {
      plain: { straight: colours.tube, bend: colours['tube-bend'], bands: NONE, ofGroup: false },
      of(straight: Color, bands: BandCode, ofGroup = true): TubeLook {
        let look = known.get(straight)
        if (look?.bands !== bands) {
          look = { straight, bend: straight.clone().multiplyScalar(BEND_SHADE), bands, ofGroup }
          known.set(straight, look)
        }
        return look
      },
    }
  }, [colours])
  return useMemo(() => {
    const byRun = new Map(
      groups.flatMap(g => g.runs.map(id => [id, of(colours[g.colour], g.bands)] as const)),
    )
    return run => {
      const own = byRun.get(run.id)
      return picked.has(run.id) && (together || !own) ? of(colours.select, NONE, false) : (own ?? plain)
    }
  }, [groups, picked, colours, plain, of, together])
}
const NONE: BandCode = []
/** How much darker a bend is than the straights beside it. */
const BEND_SHADE = 0.72

/** Pairs of points along the sharp lines of runs that have no solution: that line is all there is to show. */
function brokenLines(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  hidden: ReadonlySet<string>,
): Vec3[] {
  return document.runs.flatMap((run, i) => {
    if (solved[i]?.route || hidden.has(run.id)) return []
    const route = routePoints(document, run)
    const points = 'points' in route ? route.points : run.vertices.map(v => v.at)
    return points.slice(1).flatMap((p, k): Vec3[] => {
      const pair = [points[k]!, p]
      return pair.flat().every(Number.isFinite) ? pair : []
    })
  })
}
