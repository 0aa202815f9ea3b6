import { sessionStore } from '../../store/sessionStore.ts'
import { sceneStore } from './sceneStore.ts'
import type { Stage } from './stage.ts'

/** Frames slower than this feel like dragging through mud. ms. */
const SLOW_MS = 42
/** First frames of a row: shaders are built, buffers sent. */
const WARM_UP = 4
const FRAMES = 12
/** A row that was slow is asked again after this: the page may just have been busy starting. ms. */
const AGAIN_MS = 500

/**
 * Draws two short rows of frames once the first document is there, and goes over to plain detail when both are slow.
 * Whoever chose the detail (menu or address) is not overruled. Gives back what stops it.
 */
export function watchFrames(stage: Stage): () => void {
  let handle = 0
  let timer = 0
  const choice = sessionStore.subscribe((now, before) => {
    if (now.detail !== before.detail) sceneStore.setState({ detailChosen: true })
  })
  const address = new URLSearchParams(location.search).get('detail')
  if (address === 'plain' || address === 'full') {
    sceneStore.setState({ detailChosen: true })
    sessionStore.getState().set({ detail: address })
  }
  const isSettled = () => sceneStore.getState().detailChosen || sessionStore.getState().detail === 'plain'

  const row = (done: (middle: number) => void) => {
    const times: number[] = []
    const tick = (now: number) => {
      if (isSettled()) return
      if (document.hidden) times.length = 0
      else times.push(now)
      if (times.length <= WARM_UP + FRAMES) {
        stage.draw()
        handle = requestAnimationFrame(tick)
        return
      }
      const gaps = times.slice(WARM_UP + 1).map((t, i) => t - times[WARM_UP + i]!)
      done(gaps.sort((a, b) => a - b)[Math.floor(gaps.length / 2)]!)
    }
    handle = requestAnimationFrame(tick)
  }
  const goPlain = (middle: number) => {
    if (isSettled()) return
    if (stage.busy) {
      handle = requestAnimationFrame(() => goPlain(middle))
      return
    }
    sessionStore.getState().set({ detail: 'plain' })
    sessionStore
      .getState()
      .say(`Plain detail: one frame took ${Math.round(middle)} ms here. Display › Plain detail turns it off.`)
  }
  row(first => {
    if (first <= SLOW_MS) return
    timer = window.setTimeout(() => {
      row(second => {
        if (second > SLOW_MS) goPlain(second)
      })
    }, AGAIN_MS)
  })
  return () => {
    cancelAnimationFrame(handle)
    window.clearTimeout(timer)
    choice()
  }
}
