/**
 * The one door to what the browser remembers of small things by itself (`localStorage`, `sessionStorage`). A browser may
 * deny it, or have no room: then what is remembered lasts as long as the page, and whoever asked for it hears why.
 * Nothing here throws.
 */
export interface BrowserMemory {
  /** The text under this name, or null. */
  text(name: string): string | null
  /** What {@link keep} was given under this name, read from its JSON; null when there is nothing or it is damaged. */
  value(name: string): unknown
  /** Null when it is kept, else why the browser does not keep it, as "the browser’s storage is full". */
  keepText(name: string, text: string): string | null
  keep(name: string, value: unknown): string | null
  forget(name: string): void
}

function memoryIn(storage: () => Storage): BrowserMemory {
  /** What the browser would not take; null where it would not forget. */
  const own = new Map<string, string | null>()
  const text = (name: string): string | null => {
    const held = own.get(name)
    if (held !== undefined) return held
    try {
      return storage().getItem(name)
    } catch {
      return null
    }
  }
  const keepText = (name: string, value: string): string | null => {
    try {
      storage().setItem(name, value)
      own.delete(name)
      return null
    } catch (error) {
      own.set(name, value)
      return whyNotKept(error)
    }
  }
  return {
    text,
    keepText,
    value(name) {
      try {
        return JSON.parse(text(name) ?? 'null')
      } catch {
        return null
      }
    },
    keep: (name, value) => keepText(name, JSON.stringify(value)),
    forget(name) {
      try {
        storage().removeItem(name)
        own.delete(name)
      } catch {
        own.set(name, null)
      }
    },
  }
}

/** Why the browser did not keep something, to go behind "not kept: ". */
export function whyNotKept(error: unknown): string {
  if (error instanceof DOMException && error.name === 'QuotaExceededError')
    return 'the browser’s storage is full'
  return `the browser refuses storage (${error instanceof Error ? error.message || error.name : String(error)})`
}

/** Lasts from visit to visit. */
export const browserMemory = memoryIn(() => localStorage)
/** Of this tab: outlives its reload. */
export const tabMemory = memoryIn(() => sessionStorage)
