import type { BufferGeometry } from 'three'
import type { SolvedRoute } from '../../../solve/types.ts'
import { together } from '../together.ts'
import { isLight, tubeBands } from '../tubeBands.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import type { TubeMesh } from '../tubeGeometry.ts'
import type { TubeLook } from './Tubes.tsx'

interface Banded {
  readonly route: SolvedRoute
  /** mm */
  readonly od: number
  readonly look: TubeLook
}

/** By route and code, as long as the route is the same: a move of one run makes one run's bands anew. */
const known = new WeakMap<SolvedRoute, { readonly key: string; readonly mesh: TubeMesh | null }>()

/** The bands of many tubes as two geometries at most, dark ones and light ones; whoever asks disposes of them. */
export function bandsOfMany(
  tubes: readonly Banded[],
): readonly { readonly dark: boolean; readonly geometry: BufferGeometry }[] {
  return [true, false].flatMap(dark => {
    const meshes = tubes.flatMap(({ route, od, look }) => {
      if (look.bands.length === 0 || isLight(look.straight) !== dark) return []
      const key = `${od} ${look.bands.join()}`
      let made = known.get(route)
      if (made?.key !== key) {
        made = { key, mesh: tubeBands(route.pieces, od, look.bands, true) }
        known.set(route, made)
      }
      return made.mesh ? [made.mesh] : []
    })
    return meshes.length > 0 ? [{ dark, geometry: tubeBuffers(together(meshes)) }] : []
  })
}
