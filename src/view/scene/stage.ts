import type { Vec3 } from '../../geometry/vec3.ts'
import { type Box3, between, type Frame, LOOKS, project, type Ray, type Rig, rayAt } from './cameraRig.ts'
import type { Move } from './gestures/gesture.ts'

/** What takes the pointer in the place of picking: loaded when it is first used. */
export interface PointerTool {
  readonly cursor: string
  hover(e: Move): void
  click(e: Move): void
  leave(): void
}

/** Long enough to see which way the view turned, short enough not to wait for. */
const FLIGHT_MS = 320

/**
 * The scene's one camera and picture, outside React: gestures move it, the drawing reads it, labels follow it.
 * No frame of a gesture passes through React state.
 */
export class Stage {
  rig: Rig = { target: [0, 0, 0], span: 1000, projection: 'perspective', ...LOOKS.iso }
  frame: Frame = { width: 1, height: 1 }
  /** Of everything drawn; keeps near and far planes tight. */
  bounds: Box3 = { low: [-500, -500, 0], high: [500, 500, 500] }
  /** A pointer is down: no moment to build the canvas anew. */
  busy = false
  /** Gets clicks and moves while it is set. */
  pointerTool: PointerTool | null = null
  /** Asks for a frame; set by whoever draws. */
  draw: () => void = () => {}
  private flight = 0
  private readonly watchers = new Set<() => void>()

  setRig(rig: Rig) {
    this.rig = rig
    this.changed()
  }
  setFrame(frame: Frame) {
    this.frame = frame
    this.changed()
  }
  /** Glides to another camera in `FLIGHT_MS`, or jumps when the user asked for less motion. */
  flyTo(to: Rig) {
    this.stopFlight()
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) return this.setRig(to)
    const from = { ...this.rig, projection: to.projection }
    const start = performance.now()
    const step = (now: number) => {
      const t = Math.min(1, Math.max(0, (now - start) / FLIGHT_MS))
      this.setRig(between(from, to, t * t * (3 - 2 * t)))
      if (t < 1) this.flight = requestAnimationFrame(step)
    }
    this.flight = requestAnimationFrame(step)
  }
  stopFlight() {
    cancelAnimationFrame(this.flight)
  }
  changed() {
    this.draw()
    for (const watch of this.watchers) watch()
  }
  /** Calls back after every change of camera or picture size. */
  watch(watcher: () => void): () => void {
    this.watchers.add(watcher)
    return () => this.watchers.delete(watcher)
  }
  project(p: Vec3) {
    return project(this.rig, this.frame, p)
  }
  ray(x: number, y: number): Ray {
    return rayAt(this.rig, this.frame, x, y)
  }
  /** mm that one px covers at a point. */
  mmPerPx(at: Vec3): number {
    const seen = this.project(at)
    return seen ? 1 / seen.perMm : this.rig.span / this.frame.height
  }
}
