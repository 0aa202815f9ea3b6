import type { Model } from '../../document/types.ts'
import { triangleTree } from '../../geometry/triangleTree.ts'
import { FURTHEST_MM } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ModelPartMesh, ModelPartTree, ReadModel } from './modelTypes.ts'

/** A part's vertices in the model's frame: mm, +z up, the file's origin at 0. With 'y' up (x, y, z) is (x, −z, y). */
export function positionsInMm(part: ModelPartMesh, unitMm: number, up: Model['up']): Float64Array {
  const { positions } = part
  const out = new Float64Array(positions.length)
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i]! * unitMm
    const y = positions[i + 1]! * unitMm
    const z = positions[i + 2]! * unitMm
    if (!(Math.max(Math.abs(x), Math.abs(y), Math.abs(z)) <= FURTHEST_MM))
      throw new ModelError(
        `part "${part.names.join(' / ')}", vertex ${i / 3 + 1}: found (${x}, ${y}, ${z}) mm; wanted at most ${FURTHEST_MM / 1e6} km from the file's origin`,
      )
    out[i] = x
    out[i + 1] = up === 'y' ? -z : y
    out[i + 2] = up === 'y' ? y : z
  }
  return out
}

/**
 * The parts as trees to measure against, in the file's order.
 *
 * @param tell called after every part with how many are done.
 * @throws ModelError naming part and vertex when the unit puts it out of reach; RangeError for a unit not above 0.
 */
export function modelTrees(
  read: Pick<ReadModel, 'parts'>,
  unitMm: number,
  up: Model['up'],
  tell: (done: number, total: number) => void = () => {},
): ModelPartTree[] {
  if (!(Number.isFinite(unitMm) && unitMm > 0))
    throw new RangeError(`modelTrees: found a unit of ${unitMm} mm, wanted a length above 0 mm`)
  return read.parts.map((part, i) => {
    const tree = triangleTree(positionsInMm(part, unitMm, up), part.indices)
    tell(i + 1, read.parts.length)
    return { key: part.key, names: part.names, tree }
  })
}
