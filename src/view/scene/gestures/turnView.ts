import { aimedAt, orbited, panned, zoomed } from '../cameraRig.ts'
import { pickAt } from '../pick.ts'
import { pickable } from '../pickable.ts'
import type { Stage } from '../stage.ts'
import type { Gesture } from './gesture.ts'

/** Lets the view turn and zoom about what lies under the cursor, if anything does. */
export function aimAt(stage: Stage, x: number, y: number) {
  const pick = pickAt(stage, pickable(), x, y)
  const seen = pick && stage.project(pick.at)
  if (seen) stage.rig = aimedAt(stage.rig, seen.depth)
}

/** Turns the view about its target while the pointer is held. */
export function turnView(stage: Stage): Gesture {
  return {
    move: e => stage.setRig(orbited(stage.rig, stage.frame, e.dx, e.dy)),
    end: () => {},
    cancel: () => {},
  }
}

/** Shifts the view with the pointer. */
export function shiftView(stage: Stage): Gesture {
  return {
    move: e => stage.setRig(panned(stage.rig, stage.frame, e.dx, e.dy)),
    end: () => {},
    cancel: () => {},
  }
}

/** One wheel notch (deltaY 100) shows a sixth more or less, what is under the cursor staying put. Two fingers on a pad (ctrlKey) come in small. */
export function zoomByWheel(stage: Stage, e: WheelEvent, x: number, y: number) {
  const lines = e.deltaMode === 1 ? 33 : e.deltaMode === 2 ? 400 : 1
  const notches = Math.max(-5, Math.min(5, (e.deltaY * lines * (e.ctrlKey ? 4 : 1)) / 100))
  aimAt(stage, x, y)
  stage.setRig(zoomed(stage.rig, stage.frame, x, y, 1.17 ** notches))
}
