import { basis, type Rig } from '../cameraRig.ts'
import type { Axis } from '../pointLimits.ts'

/**
 * Which axis an arrow key locks a drag to: left and right the level axis that runs more across the picture, pressed
 * again the other one, then none; up and down z, then none. Undefined for another key.
 */
export function arrowLock(key: string, lock: Axis | null, rig: Rig): Axis | null | undefined {
  if (key === 'ArrowUp' || key === 'ArrowDown') return lock === 'z' ? null : 'z'
  if (key !== 'ArrowLeft' && key !== 'ArrowRight') return undefined
  const { right } = basis(rig)
  // The slack keeps x first in the isometric view, where both run equally.
  const across: Axis = Math.abs(right[1]) > Math.abs(right[0]) + 1e-6 ? 'y' : 'x'
  const other: Axis = across === 'x' ? 'y' : 'x'
  return lock === across ? other : lock === other ? null : across
}
