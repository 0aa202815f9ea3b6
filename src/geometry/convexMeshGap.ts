import type { Convex } from './convex.ts'
import { leastOnTriangle, type Triangle } from './leastOnTriangle.ts'
import { NearestHeap } from './nearestHeap.ts'
import { ROUNDING } from './sweptGap.ts'
import { type TriangleTree, triangleAt } from './triangleTree.ts'
import { add, addScaled, scale, type Vec3 } from './vec3.ts'

export interface ConvexMeshGap {
  /** mm; negative where the surface reaches into the solid: minus how deep. */
  readonly gap: number
  /** The true figure is no further than this from `gap`. */
  readonly errorBound: number
  /** On the solid's outside, and on the mesh's surface. */
  readonly pointA: Vec3
  readonly pointB: Vec3
}

/**
 * What the search leaves open, mm: it is in `errorBound`. Where hundreds of triangles are as near as each other, as on a
 * drum around a drum, telling them apart to rounding is worth less than an answer at once.
 */
const tolerance = (weighed: number) => (weighed < 100 ? 4e-7 : weighed < 200 ? 1e-4 : 0.005)

/**
 * The least signed distance of a solid (a half space, too) over the surface of a mesh, when below `limit`, else null.
 *
 * A branch and bound over the mesh's tree. The signed distance is convex, so its tangent plane in a box's middle
 * bounds it over the whole box. The surface is all that is looked at: whether a solid without contact lies wholly
 * inside a closed mesh is `isInside`'s question.
 */
export function convexMeshGap(solid: Convex, mesh: TriangleTree, limit: number): ConvexMeshGap | null {
  const { boxes, child, first, count, order, corners } = mesh
  const open = new NearestHeap<number>()
  let value = Infinity
  let point: Vec3 | null = null
  /** No place that was ruled out has less. */
  let certain = Infinity
  let weighed = 0
  /** Nothing lies deeper than the core, and whatever crosses that lies as deep: a plate's middle plane cuts many. */
  const deepest = -(solid.inset?.most ?? Infinity)
  const lookAt = (node: number) => {
    const lower = Math.max(deepest, underBox(solid, boxes, 6 * node))
    if (lower < limit) open.push(lower, node)
  }
  const lookInto = (i: number) => {
    const c = 9 * i
    const middle: Vec3 = [
      (corners[c]! + corners[c + 3]! + corners[c + 6]!) / 3,
      (corners[c + 1]! + corners[c + 4]! + corners[c + 7]!) / 3,
      (corners[c + 2]! + corners[c + 5]! + corners[c + 8]!) / 3,
    ]
    const at = solid.signedDistance(middle)
    const [gx, gy, gz] = at.gradient
    let under = Infinity
    for (let k = c; k < c + 9; k += 3)
      under = Math.min(
        under,
        gx * (corners[k]! - middle[0]) +
          gy * (corners[k + 1]! - middle[1]) +
          gz * (corners[k + 2]! - middle[2]),
      )
    if (at.value < value) {
      value = at.value
      point = middle
    }
    under = Math.max(deepest, at.value + under)
    const left = tolerance(weighed) / 2
    if (under >= value - left) {
      certain = Math.min(certain, under)
      return
    }
    const least = leastOnTriangle(solid, triangleAt(mesh, i) as Triangle, left)
    weighed++
    certain = Math.min(certain, least.lower)
    if (least.value < value) {
      value = least.value
      point = least.point
    }
  }
  lookAt(0)
  while (open.size > 0 && open.least < Math.min(value - tolerance(weighed), limit)) {
    const node = open.pop()!
    const down = child[node]!
    if (down !== 0) {
      lookAt(down)
      lookAt(down + 1)
    } else for (let k = first[node]!; k < first[node]! + count[node]!; k++) lookInto(order[k]!)
  }
  if (!point || !(value < limit)) return null
  const { gradient } = solid.signedDistance(point)
  const sure = Math.min(certain, open.least, value)
  return {
    gap: value,
    errorBound: value - sure + ROUNDING,
    pointA: addScaled(point, gradient, -value),
    pointB: point,
  }
}

/** No point of the box has a signed distance below this, mm. */
function underBox(solid: Convex, boxes: Float64Array, at: number): number {
  const low: Vec3 = [boxes[at]!, boxes[at + 1]!, boxes[at + 2]!]
  const high: Vec3 = [boxes[at + 3]!, boxes[at + 4]!, boxes[at + 5]!]
  const { value, gradient } = solid.signedDistance(scale(add(low, high), 0.5))
  let under = value
  for (const k of [0, 1, 2] as const) under -= (Math.abs(gradient[k]) * (high[k] - low[k])) / 2
  return under
}
