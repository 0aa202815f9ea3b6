import type { Page } from 'playwright-core'

/** For `before` of `openApp`: counts what the page asks of the graphics card, by the frame it is asked in. */
export function countDrawing(): void {
  // Methods, not named functions: what the compiler adds to those does not exist in the page.
  const drawing = {
    frames: new Map<number, { calls: number; corners: number }>(),
    programs: 0,
    count(corners: number) {
      // The same for all that happens within one frame.
      const at = Number(document.timeline.currentTime)
      const frame = drawing.frames.get(at) ?? { calls: 0, corners: 0 }
      frame.calls++
      frame.corners += corners
      drawing.frames.set(at, frame)
    },
  }
  Object.assign(window, { drawing })
  const gl = WebGL2RenderingContext.prototype
  const { drawElements, drawArrays, drawElementsInstanced, drawArraysInstanced, linkProgram } = gl
  gl.drawElements = function (...a) {
    drawing.count(a[1])
    drawElements.apply(this, a)
  }
  gl.drawArrays = function (...a) {
    drawing.count(a[2])
    drawArrays.apply(this, a)
  }
  gl.drawElementsInstanced = function (...a) {
    drawing.count(a[1] * a[4])
    drawElementsInstanced.apply(this, a)
  }
  gl.drawArraysInstanced = function (...a) {
    drawing.count(a[2] * a[3])
    drawArraysInstanced.apply(this, a)
  }
  gl.linkProgram = function (program) {
    drawing.programs++
    linkProgram.call(this, program)
  }
}

export interface Drawing {
  /** Frames in which something was drawn. */
  readonly frames: number
  /** Most draw calls of one frame. */
  readonly calls: number
  /** Most corners of triangles and lines of one frame. */
  readonly corners: number
  /** Programs made for the graphics card. */
  readonly programs: number
}

/** What was drawn since the last time this was asked. */
export const drawnSince = (page: Page): Promise<Drawing> =>
  page.evaluate<Drawing>(`(() => {
    const all = [...window.drawing.frames.values()]
    const { programs } = window.drawing
    window.drawing.frames.clear()
    window.drawing.programs = 0
    return {
      frames: all.length,
      calls: Math.max(0, ...all.map(f => f.calls)),
      corners: Math.max(0, ...all.map(f => f.corners)),
      programs,
    }
  })()`)
