import type { Convex } from './convex.ts'
import { cross, dot, sub, unit, type Vec3 } from './vec3.ts'

/** A triangle as a convex shape for `convexDistance`, which asks for its support alone. */
export function triangleSolid([p, q, r]: readonly [Vec3, Vec3, Vec3]): Convex {
  const support = (n: Vec3): Vec3 => {
    const [a, b, c] = [dot(n, p), dot(n, q), dot(n, r)]
    return a >= b && a >= c ? p : b >= c ? q : r
  }
  const normal = unit(cross(sub(q, p), sub(r, p)))
  return {
    signedDistance: () => {
      throw new Error('triangleSolid: found a question for a signed distance, wanted support only')
    },
    support,
    directions: normal ? [normal] : [],
    low: p,
    high: p,
  }
}
