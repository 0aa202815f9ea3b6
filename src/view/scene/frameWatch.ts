import { sessionStore } from '../../store/sessionStore.ts'
import { sceneStore } from './sceneStore.ts'
import type { Stage } from './stage.ts'

/** Frames slower than this on average feel like dragging through mud. ms. */
const SLOW_MS = 42
const WARM_UP = 4
const FRAMES = 16

/**
 * Draws some frames in a row once the first document is there, and goes over to plain detail when they are slow.
 * Whoever chose the detail (menu or address) is not overruled. Gives back what stops it.
 */
export function watchFrames(stage: Stage): () => void {
  let handle = 0
  const times: number[] = []
  const choice = sessionStore.subscribe((now, before) => {
    if (now.detail !== before.detail) sceneStore.setState({ detailChosen: true })
  })
  const address = new URLSearchParams(location.search).get('detail')
  if (address === 'plain' || address === 'full') {
    sceneStore.setState({ detailChosen: true })
    sessionStore.getState().set({ detail: address })
  }
  const tick = (now: number) => {
    times.push(now)
    if (sceneStore.getState().detailChosen || sessionStore.getState().detail === 'plain') return
    if (times.length < WARM_UP + FRAMES) {
      stage.draw()
      handle = requestAnimationFrame(tick)
      return
    }
    const gaps = times.slice(WARM_UP).map((t, i, all) => t - (all[i - 1] ?? times[WARM_UP - 1]!))
    const middle = [...gaps].sort((a, b) => a - b)[Math.floor(gaps.length / 2)]!
    if (middle <= SLOW_MS) return
    goPlain(middle)
  }
  const goPlain = (middle: number) => {
    if (sceneStore.getState().detailChosen) return
    if (stage.busy) {
      handle = requestAnimationFrame(() => goPlain(middle))
      return
    }
    sessionStore.getState().set({ detail: 'plain' })
    sessionStore
      .getState()
      .say(`Plain detail: a picture took ${Math.round(middle)} ms here. Display, Plain detail turns it off.`)
  }
  handle = requestAnimationFrame(tick)
  return () => {
    cancelAnimationFrame(handle)
    choice()
  }
}
