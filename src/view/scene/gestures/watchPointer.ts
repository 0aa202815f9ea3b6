import { sessionStore } from '../../../store/sessionStore.ts'
import { panned, zoomed } from '../cameraRig.ts'
import { type Pick, pickAt } from '../pick.ts'
import { canDraw, pickable } from '../pickable.ts'
import type { Stage } from '../stage.ts'
import { dragPoint } from './dragPoint.ts'
import { canDragStraight, dragStraight } from './dragStraight.ts'
import type { Gesture, Move } from './gesture.ts'
import { insertUnder } from './insertPoint.ts'
import { placeAt, showPlace, stopPlacing } from './placePoint.ts'
import { aimAt, shiftView, turnView, zoomByWheel } from './turnView.ts'

/** A press that moves less than this is a click, px. */
const CLICK_PX = 4

/**
 * Left: click picks (or places), drag on a handle moves its point, on a straight of the run in hand that straight, drag
 * elsewhere turns the view. Right or middle
 * drag, or Shift and left, shifts it; the wheel zooms at the cursor. One finger as the left button, two shift and zoom.
 * Gives back what takes it all down again.
 */
export function watchPointer(stage: Stage, canvas: HTMLCanvasElement): () => void {
  const fingers = new Map<number, { x: number; y: number }>()
  let held: {
    gesture: Gesture | null
    pick: Pick | null
    button: number
    moved: boolean
    from: Move
  } | null = null
  let hovering = 0

  const where = (e: PointerEvent | WheelEvent | MouseEvent) => {
    const box = canvas.getBoundingClientRect()
    return { x: e.clientX - box.left, y: e.clientY - box.top }
  }
  const moveOf = (e: PointerEvent, before: { x: number; y: number }): Move => {
    const { x, y } = where(e)
    return {
      x,
      y,
      dx: x - before.x,
      dy: y - before.y,
      alt: e.altKey,
      shift: e.shiftKey,
      ctrl: e.ctrlKey || e.metaKey,
    }
  }

  const down = (e: PointerEvent) => {
    canvas.focus({ preventScroll: true })
    const at = where(e)
    fingers.set(e.pointerId, at)
    stage.busy = true
    canvas.setPointerCapture(e.pointerId)
    if (fingers.size > 1) {
      held?.gesture?.cancel()
      held = null
      return
    }
    stage.stopFlight()
    const reach = e.pointerType === 'touch' ? 2 : 1
    const pick = e.button === 0 ? pickAt(stage, pickable(), at.x, at.y, reach) : null
    held = { gesture: null, pick, button: e.button, moved: false, from: moveOf(e, at) }
  }

  const begin = (e: PointerEvent): Gesture => {
    if (held?.button !== 0) return shiftView(stage)
    const { pick } = held
    if (pick?.handle && pick.part.kind === 'point' && sessionStore.getState().tool === 'pick') {
      const drag = dragPoint(stage, pick.part.run, pick.part.point, held.from)
      if (drag) return drag
    }
    if (
      pick?.part.kind === 'straight' &&
      canDraw() &&
      sessionStore.getState().tool === 'pick' &&
      !e.shiftKey
    ) {
      const drag = dragStraight(stage, pick.part.run, pick.part.straight, pick.at, held.from)
      if (drag) return drag
    }
    if (e.shiftKey) return shiftView(stage)
    aimAt(stage, held.from.x, held.from.y)
    return turnView(stage)
  }

  const move = (e: PointerEvent) => {
    const before = fingers.get(e.pointerId)
    if (!before) return hover(e)
    const step = moveOf(e, before)
    if (fingers.size === 2) {
      pinch(e.pointerId, before, step)
      fingers.set(e.pointerId, step)
      return
    }
    fingers.set(e.pointerId, step)
    if (!held) return
    if (!held.moved) {
      if (Math.hypot(step.x - held.from.x, step.y - held.from.y) < CLICK_PX) return
      held.moved = true
      held.gesture = begin(e)
      sceneCursor(held.gesture.key ? 'grabbing' : 'move')
    }
    if (!held.gesture?.over?.()) held.gesture?.move(step)
  }

  const pinch = (id: number, before: { x: number; y: number }, after: Move) => {
    const other = [...fingers].find(([k]) => k !== id)?.[1]
    if (!other) return
    const [d0, d1] = [before, after].map(p => Math.hypot(p.x - other.x, p.y - other.y))
    const shifted = panned(stage.rig, stage.frame, after.dx / 2, after.dy / 2)
    const [mx, my] = [(after.x + other.x) / 2, (after.y + other.y) / 2]
    stage.setRig(d0! > 1 && d1! > 1 ? zoomed(shifted, stage.frame, mx, my, d0! / d1!) : shifted)
  }

  const up = (e: PointerEvent) => {
    if (!fingers.delete(e.pointerId)) return
    stage.busy = fingers.size > 0
    sceneCursor('')
    const done = held
    held = null
    if (!done) return
    if (done.gesture) {
      if (!done.gesture.over?.()) done.gesture.end()
    } else if (done.button === 0 && e.type === 'pointerup') click(moveOf(e, done.from), done.pick)
  }
  const lose = (e: PointerEvent) => {
    fingers.delete(e.pointerId)
    stage.busy = fingers.size > 0
    if (held?.gesture && !held.gesture.over?.()) held.gesture.cancel()
    held = null
    sceneCursor('')
  }

  const click = (at: Move, pick: Pick | null) => {
    if (stage.pointerTool) stage.pointerTool.click(at)
    else if (sessionStore.getState().tool === 'place') placeAt(stage, at)
    else sessionStore.getState().select(pick?.part ?? null)
  }

  const hover = (e: PointerEvent) => {
    const step = moveOf(e, where(e))
    cancelAnimationFrame(hovering)
    hovering = requestAnimationFrame(() => {
      if (stage.pointerTool) {
        stage.pointerTool.hover(step)
        sceneCursor(stage.pointerTool.cursor)
        return
      }
      if (sessionStore.getState().tool === 'place') {
        showPlace(stage, step)
        sceneCursor('crosshair')
        return
      }
      const pick = pickAt(stage, pickable(), step.x, step.y)
      sessionStore.getState().setHover(pick?.part ?? null)
      sceneCursor(pick ? (pick.handle || canDragStraight(pick.part) ? 'grab' : 'pointer') : '')
    })
  }
  const leave = () => {
    cancelAnimationFrame(hovering)
    if (held) return
    sessionStore.getState().setHover(null)
    stage.pointerTool?.leave()
    if (sessionStore.getState().tool === 'place') stopPlacing()
  }
  const sceneCursor = (cursor: string) => {
    canvas.style.cursor = cursor
  }
  const wheel = (e: WheelEvent) => {
    e.preventDefault()
    stage.stopFlight()
    const { x, y } = where(e)
    zoomByWheel(stage, e, x, y)
  }
  const twice = (e: MouseEvent) => {
    if (sessionStore.getState().tool !== 'pick' || !canDraw()) return
    const { x, y } = where(e)
    insertUnder(stage, x, y)
  }
  /** Before anyone else hears it: while a point is dragged the digits are its figures. */
  const key = (e: KeyboardEvent) => {
    if (!held?.gesture?.key || held.gesture.over?.()) return
    if (held.gesture.key(e)) {
      e.preventDefault()
      e.stopImmediatePropagation()
    }
  }
  const menu = (e: Event) => e.preventDefault()

  canvas.addEventListener('pointerdown', down)
  canvas.addEventListener('pointermove', move)
  canvas.addEventListener('pointerup', up)
  canvas.addEventListener('pointercancel', lose)
  canvas.addEventListener('pointerleave', leave)
  canvas.addEventListener('wheel', wheel, { passive: false })
  canvas.addEventListener('dblclick', twice)
  canvas.addEventListener('contextmenu', menu)
  window.addEventListener('keydown', key, { capture: true })
  return () => {
    cancelAnimationFrame(hovering)
    if (held?.gesture && !held.gesture.over?.()) held.gesture.cancel()
    held = null
    stage.busy = false
    window.removeEventListener('keydown', key, { capture: true })
    for (const [name, listener] of [
      ['pointerdown', down],
      ['pointermove', move],
      ['pointerup', up],
      ['pointercancel', lose],
      ['pointerleave', leave],
      ['wheel', wheel],
      ['dblclick', twice],
      ['contextmenu', menu],
    ] as const)
      canvas.removeEventListener(name, listener as EventListener)
  }
}
