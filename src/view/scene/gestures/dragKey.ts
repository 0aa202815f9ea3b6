import { sessionStore } from '../../../store/sessionStore.ts'
import { pressKey, type TypedFields } from '../typedFields.ts'

/** What a drag makes of keys. */
interface KeysOfDrag {
  /** Alt went down: no snap for as long as it is held. */
  readonly alt: () => void
  readonly cancel: () => void
  /** True when an arrow key, or another key of this drag's own, was taken. */
  readonly own: (key: string) => boolean
  readonly typed: () => TypedFields
  /** The figures typed so far: the drag goes there. @returns whether it can be left there. */
  readonly type: (fields: TypedFields) => boolean
  readonly end: () => void
}

/** A key that goes down during a drag. Undo, save and the tools wait until it is over. @returns whether it was taken. */
export function dragKey(e: KeyboardEvent, { alt, cancel, own, typed, type, end }: KeysOfDrag): boolean {
  if (e.key === 'Shift' || e.key === 'Control' || e.key === 'Meta') return false
  if (e.key === 'Alt') alt()
  else if (e.ctrlKey || e.metaKey) return true
  else if (e.key === 'Escape') cancel()
  else if (!own(e.key)) {
    const pressed = pressKey(typed(), e.key, sessionStore.getState().unit)
    if (pressed && type(pressed.fields) && pressed.done) end()
  }
  return true
}
