import { useMemo } from 'react'
import { useStore } from 'zustand'
import { addScaled, anySquareTo, cross, type Vec3 } from '../../../geometry/vec3.ts'
import type { Exemption } from '../../../skid/exemptions.ts'
import { pointOn } from '../../../solve/centreLine.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { useExemptions } from '../useExemptions.ts'
import { Dashes } from './Dashes.tsx'

/** Between two hatch lines along the tube, as a share of its OD. */
const APART = 0.3
/** How far outside the tube the hatching lies, as a share of its radius. */
const OUTSIDE = 1.04
const SIDES = 16

/** Hatching round the stretches of tube that are not measured against the body that their port stands on. */
export function Exemptions({ colours }: { readonly colours: ThemeColours }) {
  const exemptions = useExemptions()
  const hidden = useStore(sessionStore, s => s.hiddenRuns)
  const lines = useMemo(
    () => exemptions.filter(e => !hidden.has(e.run)).flatMap(hatchOf),
    [exemptions, hidden],
  )
  return <Dashes points={lines} colour={colours.panel} width={2} opacity={0.95} />
}

/** Slanting rings, pairs of points: told from a bend's and an end's square ones. */
function hatchOf({ pieces, od }: Exemption): Vec3[] {
  const r = (OUTSIDE * od) / 2
  return pieces.flatMap(piece => {
    const long = piece.to - piece.from
    const count = Math.max(1, Math.round(long / (APART * od)))
    return Array.from({ length: count }, (_, k) => {
      const ring = Array.from({ length: SIDES + 1 }, (_, i) => {
        const t = (2 * Math.PI * i) / SIDES
        const slant = (Math.cos(t) * APART * od) / 2
        const at = Math.min(Math.max(((k + 0.5) * long) / count + slant, 0), long)
        const { point, direction } = pointOn(piece, at)
        const u = anySquareTo(direction)
        const v = cross(direction, u)
        return addScaled(addScaled(point, u, r * Math.cos(t)), v, r * Math.sin(t))
      })
      return ring.slice(1).flatMap((p, i) => [ring[i]!, p])
    }).flat()
  })
}
