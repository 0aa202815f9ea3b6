import { distance, type Vec3 } from '../../geometry/vec3.ts'
import { type Flat, freedoms, meet, nearestOn } from './flat.ts'
import { tidy } from './pointLimits.ts'
import type { SnapTarget } from './snapTargets.ts'

export interface Snapped {
  readonly point: Vec3
  readonly names: readonly string[]
  readonly guides: readonly { readonly from: Vec3; readonly to: Vec3 }[]
}

/**
 * Pulls a point onto the targets within reach, nearest first, as many as its freedom lets it obey at once.
 *
 * @param flat where the point may be; it never leaves it.
 * @param reach how far it may be pulled, mm.
 */
export function snap(p: Vec3, flat: Flat, targets: readonly SnapTarget[], reach: number): Snapped {
  let held = flat
  const used: SnapTarget[] = []
  while (freedoms(held) > 0) {
    let best: { flat: Flat; target: SnapTarget; off: number } | null = null
    for (const target of targets) {
      if (used.includes(target)) continue
      const wanted = target.flat(p)
      const both = wanted && meet(held, wanted)
      if (!both || freedoms(both) === freedoms(held)) continue
      const off = distance(nearestOn(both, p), p)
      if (off <= reach && (!best || off < best.off - 1e-9)) best = { flat: both, target, off }
    }
    if (!best) break
    held = best.flat
    used.push(best.target)
  }
  const point = used.length > 0 ? tidy(nearestOn(held, p)) : p
  const names = [...new Set(used.map(t => t.name))]
  return { point, names, guides: used.map(t => ({ from: t.from(point), to: point })) }
}
