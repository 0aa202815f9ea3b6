import { documentStore } from '../../store/documentStore.ts'
import { showPanel } from '../../store/lookStore.ts'
import { dropWish, measuredPair, measuredStore } from '../../store/measured.ts'
import { dropPair, measureStore, type Pair, takeThing } from '../../store/measureStore.ts'
import { meshBodiesOf } from '../../store/meshBodies.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Move } from '../scene/gestures/gesture.ts'
import { pickable } from '../scene/pickable.ts'
import { sceneStore } from '../scene/sceneStore.ts'
import type { Stage } from '../scene/stage.ts'
import { type MeasureSnap, measureSnap } from './measureSnap.ts'
import { gapText } from './measureWords.ts'

/** Makes clicks in the picture take what is measured, until what it gives is called. Escape drops, then leaves. */
export function measureTool(stage: Stage): () => void {
  const under = (e: Move): MeasureSnap | null => {
    const { hiddenBodies, section, gap, runInHand } = sessionStore.getState()
    return measureSnap(stage, { pickable: pickable(), hiddenBodies, section, gap, runInHand }, e.x, e.y, {
      whole: e.alt,
    })
  }
  let pointed: Move | null = null
  const clear = () => {
    pointed = null
    sceneStore.setState({ readout: null })
    if (measureStore.getState().hint.length > 0) measureStore.setState({ hint: [] })
  }
  stage.pointerTool = {
    cursor: 'crosshair',
    hover(e) {
      pointed = e
      const snap = under(e)
      const { first, second } = measureStore.getState()
      const isSecond = first !== null && second === null
      measureStore.setState({ hint: snap?.hint ?? [] })
      sceneStore.setState({
        readout: {
          x: e.x,
          y: e.y,
          title: isSecond ? 'Measure to' : 'Measure from',
          rows: snap && isSecond ? distanceRows(snap) : [],
          fields: [],
          broken: null,
          snaps: snap ? [snap.name] : [],
          hint: snap ? 'Alt: the whole thing' : 'Nothing to take here',
        },
      })
    },
    click(e) {
      const snap = under(e)
      if (!snap) return sessionStore.getState().say('Nothing to measure there.')
      takeThing(snap.thing)
      const { second } = measureStore.getState()
      sessionStore.getState().say(second ? `Measured to ${snap.name}.` : `From ${snap.name}. Now the second.`)
      clear()
    },
    leave: clear,
  }
  const key = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || event.defaultPrevented || document.querySelector('dialog:modal')) return
    event.preventDefault()
    event.stopImmediatePropagation()
    clear()
    const { second } = measureStore.getState()
    // A pair half made is dropped first; a whole one stays in the list, so Escape leaves.
    if (second || !dropPair()) showPanel(null)
  }
  window.addEventListener('keydown', key, { capture: true })
  // A figure that took a worker comes while the pointer rests.
  const stopAnswers = measuredStore.subscribe(() => pointed && stage.pointerTool?.hover(pointed))
  return () => {
    stopAnswers()
    window.removeEventListener('keydown', key, { capture: true })
    stage.pointerTool = null
    clear()
    dropPair()
  }
}

/** What the worker was asked for the pointer's sake: no longer wanted once the pointer is elsewhere. */
let asked: Pair | null = null

function distanceRows(snap: MeasureSnap) {
  const { first } = measureStore.getState()
  if (!first) return []
  const { document } = documentStore.getState()
  if (asked) dropWish(asked)
  asked = [first, snap.thing]
  const m = measuredPair(document, meshBodiesOf(document).bodies, asked)
  if (!m) return [{ name: 'distance', value: '…' }]
  return 'refused' in m ? [] : [{ name: 'distance', value: gapText(m, sessionStore.getState().unit) }]
}
