import type { Viewpoint } from '../../document/types.ts'
import { DEG } from '../../geometry/vec3.ts'
import type { Rig } from './cameraRig.ts'

/** Where the camera of a saved view stands. Degrees, mm. */
export type Stand = Pick<Viewpoint, 'target' | 'yaw' | 'pitch' | 'span' | 'projection'>

/** The rig as a saved view has it. */
export const standOfRig = ({ target, yaw, pitch, span, projection }: Rig): Stand => ({
  target,
  yaw: yaw / DEG,
  // Straight up and down stay within what a file may hold, whatever the last digit does.
  pitch: Math.min(90, Math.max(-90, pitch / DEG)),
  span,
  projection,
})

/** The rig that a saved view asks for. */
export const rigOfStand = ({ target, yaw, pitch, span, projection }: Stand): Rig => ({
  target,
  yaw: yaw * DEG,
  pitch: pitch * DEG,
  span,
  projection,
})
