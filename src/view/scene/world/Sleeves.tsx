import { memo, useEffect, useMemo } from 'react'
import { fittingsById } from '../../../document/lookUp.ts'
import type { Fitting, Run } from '../../../document/types.ts'
import { insulationCutBack, sleeveOf } from '../../../skid/insulation.ts'
import { piecesBetween } from '../../../solve/piecesBetween.ts'
import type { SolvedRun } from '../../../solve/types.ts'
import type { ThemeColours } from '../themeColours.ts'
import { together } from '../together.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import { detailForMany, tubeMesh } from '../tubeGeometry.ts'

interface Props {
  readonly runs: readonly Run[]
  readonly fittings: readonly Fitting[]
  readonly solved: readonly SolvedRun[]
  readonly hidden: ReadonlySet<string>
  readonly colours: ThemeColours
}

/** The insulation of all runs that have any, see-through, from where it begins to where it ends. */
export const Sleeves = memo(function Sleeves({ runs, fittings, solved, hidden, colours }: Props) {
  const geometry = useMemo(() => {
    const ports = fittingsById(fittings)
    const sleeves = runs.flatMap((run, i) => {
      const route = solved[i]?.route
      if (!route || run.insulation <= 0 || hidden.has(run.id)) return []
      const sleeve = sleeveOf(insulationCutBack(run, ports), route.developedLength)
      const pieces = sleeve ? piecesBetween(route.pieces, sleeve.from, sleeve.to) : []
      return pieces.length > 0 ? [{ pieces, od: run.tube.od + 2 * run.insulation }] : []
    })
    const { detail } = detailForMany(
      sleeves.map(s => s.pieces),
      true,
    )
    return tubeBuffers(together(sleeves.map(s => tubeMesh(s.pieces, s.od, 0, detail))))
  }, [runs, fittings, solved, hidden])
  useEffect(() => () => geometry.dispose(), [geometry])
  const body = useMemo(() => colours['ink-3'].clone().lerp(colours.panel, 0.35), [colours])
  return (
    <mesh geometry={geometry} renderOrder={2}>
      <meshLambertMaterial color={body} transparent opacity={0.4} depthWrite={false} />
    </mesh>
  )
})
