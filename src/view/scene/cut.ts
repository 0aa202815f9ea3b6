import type { Solid } from '../../document/types.ts'
import { addScaled, dot, lerp, scale, sub, type Vec3 } from '../../geometry/vec3.ts'
import type { Ray } from './cameraRig.ts'
import { type FaceHit, rayMeetsSolid } from './raySolid.ts'

/** The section plane: `normal` (unit) points to what is cut away. */
export interface Section {
  readonly at: Vec3
  readonly normal: Vec3
}

/** True where the section leaves nothing to see or to pick. */
export const isCutAway = (section: Section | null, p: Vec3): boolean =>
  section !== null && dot(sub(p, section.at), section.normal) > 0

/** What the section leaves of a segment; null when that is nothing. */
export function keptSegment(section: Section | null, a: Vec3, b: Vec3): readonly [Vec3, Vec3] | null {
  if (!section) return [a, b]
  const [ha, hb] = [dot(sub(a, section.at), section.normal), dot(sub(b, section.at), section.normal)]
  if (ha > 0 && hb > 0) return null
  if (ha <= 0 && hb <= 0) return [a, b]
  const cut = lerp(a, b, ha / (ha - hb))
  return ha > 0 ? [cut, b] : [a, cut]
}

/** Where a ray first meets what the section leaves of a solid: its outside, or the face that the cut makes. */
export function rayMeetsCutSolid(ray: Ray, solid: Solid, section: Section | null): FaceHit | null {
  const hit = rayMeetsSolid(ray, solid)
  if (!section || !hit || !isCutAway(section, hit.point)) return hit
  const fall = dot(ray.direction, section.normal)
  if (fall >= 0) return null
  const along = dot(sub(section.at, ray.origin), section.normal) / fall
  const point = addScaled(ray.origin, ray.direction, along)
  if (solid.shape === 'plane') return { along, point, normal: section.normal }
  // Seen from the other side, the ray enters where it leaves: far enough off, it starts outside.
  const far = 2 * along + 1e6
  const back = rayMeetsSolid(
    { origin: addScaled(ray.origin, ray.direction, far), direction: scale(ray.direction, -1) },
    solid,
  )
  return back && along < far - back.along ? { along, point, normal: section.normal } : null
}
