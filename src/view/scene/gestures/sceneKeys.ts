import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { canDraw } from '../pickable.ts'
import { routeOf } from '../routeOf.ts'
import { sceneStore } from '../sceneStore.ts'
import type { Stage } from '../stage.ts'
import { deleteSelected, insertAtSelection } from './insertPoint.ts'
import { nudger } from './nudge.ts'
import { stopPlacing } from './placePoint.ts'

/** What the keys do while the 3D view (or nothing) has the focus, for the shortcut sheet. */
export const SCENE_KEYS: readonly { readonly keys: string; readonly label: string }[] = [
  { keys: 'Arrow keys', label: 'Nudge the selection by 1 mm or 1/16 in (Shift: ten times)' },
  { keys: 'Page up, Page down', label: 'Nudge it up or down; while placing, move the work plane' },
  { keys: ', and .', label: 'Previous point, next point' },
  { keys: 'I, or double click', label: 'Insert a point on the leg' },
  { keys: 'Delete', label: 'Delete the selected point or support' },
  { keys: 'Escape', label: 'Stop placing, then select nothing' },
  { keys: '← →, while dragging', label: 'Lock to one level axis, to the other, to none' },
  { keys: '↑ ↓, while dragging', label: 'Lock to z, or to none' },
  { keys: 'Digits, ; and Enter, while dragging', label: 'Set figures exactly: ; goes to the next' },
  { keys: 'Alt, while dragging', label: 'No snaps' },
  { keys: 'Alt, while placing', label: 'On the work plane, not on a face' },
  { keys: 'Ctrl, while placing', label: 'No snaps, no rounding' },
  { keys: 'Shift, while placing', label: 'Straight on from the last point' },
]

/** Keys of the scene, only while it or nothing has the focus. Gives back what stops them. */
export function listenToSceneKeys(stage: Stage, scene: HTMLElement): () => void {
  const nudge = nudger(stage)
  const isOurs = (e: KeyboardEvent) => {
    if (e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey || e.isComposing) return false
    if (document.querySelector('dialog:modal') || !canDraw()) return false
    const focus = document.activeElement
    const nothing = !focus || focus === document.body || focus.matches('.view-title')
    return nothing || (scene.contains(focus) && focus instanceof HTMLCanvasElement)
  }
  const down = (e: KeyboardEvent) => {
    if (!isOurs(e)) return
    if (press(e)) e.preventDefault()
  }
  const press = (e: KeyboardEvent): boolean => {
    const { tool, selection, select, set } = sessionStore.getState()
    if (tool === 'place' && (e.key === 'PageUp' || e.key === 'PageDown')) {
      const step = (sessionStore.getState().unit === 'mm' ? 10 : 25.4) * (e.shiftKey ? 10 : 1)
      const { plane } = sceneStore.getState()
      sceneStore.setState({ plane: { ...plane, at: plane.at + (e.key === 'PageUp' ? step : -step) } })
      return true
    }
    if (nudge.press(e)) return true
    if (e.shiftKey) return false
    // Single characters only while the picture itself has the focus: speech input types them by accident.
    if (e.key.length === 1 && !(document.activeElement instanceof HTMLCanvasElement)) return false
    switch (e.key) {
      case 'Delete':
      case 'Backspace':
        deleteSelected()
        return true
      case 'i':
      case 'I':
        insertAtSelection()
        return true
      case '.':
      case ',':
        step(e.key === '.' ? 1 : -1)
        return true
      case 'Escape':
        if (tool === 'place') {
          set({ tool: 'pick' })
          stopPlacing()
        } else if (selection) select(null)
        else return false
        return true
      default:
        return false
    }
  }
  const up = (e: KeyboardEvent) => {
    if (/^Arrow|^Page/.test(e.key)) nudge.settle()
  }
  window.addEventListener('keydown', down)
  window.addEventListener('keyup', up)
  window.addEventListener('blur', nudge.settle)
  return () => {
    nudge.settle()
    window.removeEventListener('keydown', down)
    window.removeEventListener('keyup', up)
    window.removeEventListener('blur', nudge.settle)
  }
}

/** Selects the next (or previous) point of the run in hand, round and round. */
function step(by: 1 | -1) {
  const { runInHand, selection, select, say } = sessionStore.getState()
  const route = routeOf(documentStore.getState().document, runInHand)
  if (!route) return say('Select a run first.')
  const n = route.ids.length
  const at =
    selection?.kind === 'point' && selection.run === runInHand ? route.ids.indexOf(selection.point) : -1
  const next = at < 0 ? (by > 0 ? 0 : n - 1) : (at + by + n) % n
  select({ kind: 'point', run: route.run.id, point: route.ids[next]! })
}
