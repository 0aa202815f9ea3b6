import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, Sphere, Vector3 } from 'three'
import type { ModelDrawing } from '../../../skid/models/modelDrawing.ts'

/** A model's vertices, sent to the graphics card once however many geometries draw parts of them. */
export interface SharedVertices {
  readonly position: BufferAttribute
  /** The corners of all parts. */
  readonly all: Uint32Array
  readonly allIndex: BufferAttribute
  readonly ball: Sphere
  /** Geometries that use the vertices now, and those of them that draw all parts. */
  readonly users: Set<BufferGeometry>
  readonly usersOfAll: Set<BufferGeometry>
}

export function sharedVertices({ positions, indices, low, high }: ModelDrawing): SharedVertices {
  const across = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2])
  return {
    position: new BufferAttribute(positions, 3),
    all: indices,
    allIndex: new BufferAttribute(indices, 1),
    ball: new Sphere(new Vector3(), across / 2),
    users: new Set(),
    usersOfAll: new Set(),
  }
}

/** A geometry over shared vertices that draws the given corners. */
export function useSharedGeometry(shared: SharedVertices, indices: Uint32Array): BufferGeometry {
  const geometry = useMemo(() => dress(new BufferGeometry(), shared, indices), [shared, indices])
  useEffect(() => {
    if (!geometry.index) dress(geometry, shared, indices)
    const { users, usersOfAll } = shared
    users.add(geometry)
    if (indices === shared.all) usersOfAll.add(geometry)
    return () => {
      users.delete(geometry)
      usersOfAll.delete(geometry)
      // three frees the buffers of a geometry with it: what others still draw from is taken out first.
      if (users.size > 0) geometry.deleteAttribute('position')
      if (usersOfAll.size > 0 && indices === shared.all) geometry.setIndex(null)
      geometry.dispose()
    }
  }, [geometry, shared, indices])
  return geometry
}

function dress(geometry: BufferGeometry, shared: SharedVertices, indices: Uint32Array): BufferGeometry {
  geometry.setAttribute('position', shared.position)
  geometry.setIndex(indices === shared.all ? shared.allIndex : new BufferAttribute(indices, 1))
  geometry.boundingSphere = shared.ball
  return geometry
}
