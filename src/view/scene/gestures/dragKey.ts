/** What a drag makes of keys. */
interface KeysOfDrag {
  /** Alt went down: no snap for as long as it is held. */
  readonly alt: () => void
  readonly cancel: () => void
  /** True when an arrow key, or another key of this drag's own, was taken. */
  readonly own: (key: string) => boolean
  /** Any other key is a part of a figure. */
  readonly type: (key: string) => void
}

/** A key that goes down during a drag. Undo, save and the tools wait until it is over. @returns whether it was taken. */
export function dragKey(e: KeyboardEvent, { alt, cancel, own, type }: KeysOfDrag): boolean {
  if (e.key === 'Shift' || e.key === 'Control' || e.key === 'Meta') return false
  if (e.key === 'Alt') alt()
  else if (e.ctrlKey || e.metaKey) return true
  else if (e.key === 'Escape') cancel()
  else if (!own(e.key)) type(e.key)
  return true
}
