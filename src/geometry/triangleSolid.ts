import { type Convex, supportOnly } from './convex.ts'
import { dot, type Vec3 } from './vec3.ts'

/** A triangle as a convex shape for `convexDistance`, which asks for its support alone. */
export const triangleSolid = ([p, q, r]: readonly [Vec3, Vec3, Vec3]): Convex =>
  supportOnly(n => {
    const [a, b, c] = [dot(n, p), dot(n, q), dot(n, r)]
    return a >= b && a >= c ? p : b >= c ? q : r
  }, p)
