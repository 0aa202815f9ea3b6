import type { Fitting, SkidDocument, Solid } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { floorHeight } from '../scene/floorGrid.ts'

export const SHAPES: readonly { shape: Solid['shape']; name: string }[] = [
  { shape: 'box', name: 'Box' },
  { shape: 'cylinder', name: 'Cylinder' },
  { shape: 'sphere', name: 'Sphere' },
  { shape: 'plane', name: 'Plane' },
]

/** Beside what is there already, so that a new part never hides inside an old one, at a height above the floor; mm. */
function freePlace(document: SkidDocument, above: number): Vec3 {
  const xs = [...document.fittings.map(f => f.position[0]), ...document.solids.map(s => s.at[0])]
  return [xs.length === 0 ? 0 : Math.round(Math.max(...xs) + 150), 0, floorHeight(document) + above]
}

/** From a new solid's middle down to its lowest point, mm: it stands on the floor. */
const HALF_HEIGHT = { box: 50, cylinder: 100, sphere: 50, plane: 0 } as const

/** A port heading along +x, of a plain kind whose figures are the user's to set. */
export const newFitting = (document: SkidDocument, id: string): Fitting => ({
  id,
  name: `Port ${document.fittings.length + 1}`,
  catalogueId: null,
  position: freePlace(document, 100),
  axis: [1, 0, 0],
  insertionDepth: 0,
  straightNeeded: 0,
  tubeOd: null,
})

export function newSolid(shape: Solid['shape'], document: SkidDocument, id: string): Solid {
  const name = `${SHAPES.find(s => s.shape === shape)?.name ?? 'Solid'} ${document.solids.length + 1}`
  const base = {
    id,
    name,
    kind: 'equipment',
    fitting: null,
    at: freePlace(document, HALF_HEIGHT[shape]),
  } as const
  switch (shape) {
    case 'box':
      return { ...base, shape, size: [100, 100, 100], turn: [0, 0, 0] }
    case 'cylinder':
      return { ...base, shape, axis: [0, 0, 1], length: 200, radius: 50 }
    case 'sphere':
      return { ...base, shape, radius: 50 }
    case 'plane':
      return { ...base, shape, kind: 'floor', at: [0, 0, 0], normal: [0, 0, 1] }
  }
}
