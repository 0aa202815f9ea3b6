import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react'

export interface MenuItem {
  readonly label: string
  readonly keys?: string
  readonly disabled?: boolean
  readonly checked?: boolean
  /** A line above this item. */
  readonly apart?: boolean
  run(): void
}

/** A button that opens a list of commands. Arrow keys, Home, End, first letters; Escape and Tab close it. */
export function Menu(props: {
  label: string
  title?: string
  children?: ReactNode
  items: readonly MenuItem[]
}) {
  const [open, setOpen] = useState(false)
  const box = useRef<HTMLDivElement>(null)
  const button = useRef<HTMLButtonElement>(null)
  const id = useId()
  const entries = () => [...(box.current?.querySelectorAll<HTMLButtonElement>('[role^="menuitem"]') ?? [])]

  useEffect(() => {
    if (!open) return
    const away = (event: PointerEvent) => {
      if (!box.current?.contains(event.target as Node)) setOpen(false)
    }
    window.addEventListener('pointerdown', away)
    box.current?.querySelector<HTMLButtonElement>('[role^="menuitem"]')?.focus()
    return () => window.removeEventListener('pointerdown', away)
  }, [open])

  const close = () => {
    setOpen(false)
    button.current?.focus()
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (!open) {
      if (event.key !== 'ArrowDown') return
      event.preventDefault()
      setOpen(true)
      return
    }
    const all = entries()
    const at = all.indexOf(document.activeElement as HTMLButtonElement)
    const go = (to: number) => all[(to + all.length) % all.length]?.focus()
    if (event.key === 'ArrowDown') go(at + 1)
    else if (event.key === 'ArrowUp') go(at - 1)
    else if (event.key === 'Home') go(0)
    else if (event.key === 'End') go(-1)
    else if (event.key === 'Escape') close()
    else if (event.key === 'Tab') return setOpen(false)
    else if (/^\p{L}$/u.test(event.key) && !event.ctrlKey && !event.altKey && !event.metaKey) {
      const starts = (b: HTMLButtonElement) =>
        b.textContent?.toLowerCase().startsWith(event.key.toLowerCase())
      const next = [...all.slice(at + 1), ...all.slice(0, at + 1)].find(starts)
      next?.focus()
    } else return
    event.preventDefault()
    event.stopPropagation()
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keys belong to the button and the menu inside
    <div className="menu" ref={box} onKeyDown={onKeyDown}>
      <button
        type="button"
        ref={button}
        title={props.title}
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={open ? id : undefined}
        onClick={() => setOpen(!open)}
      >
        {props.children ?? props.label}
        <span aria-hidden="true"> ▾</span>
      </button>
      {open && (
        <div role="menu" id={id} aria-label={props.label} className="menuList">
          {props.items.map(item => (
            <button
              type="button"
              key={item.label}
              {...(item.checked === undefined
                ? { role: 'menuitem' }
                : { role: 'menuitemcheckbox', 'aria-checked': item.checked })}
              aria-disabled={item.disabled || undefined}
              className={item.apart ? 'apart' : undefined}
              tabIndex={-1}
              onClick={() => {
                if (item.disabled) return
                close()
                item.run()
              }}
            >
              <span>
                {item.checked !== undefined && (
                  <span aria-hidden="true" className="tick">
                    {item.checked ? '✓' : ''}
                  </span>
                )}
                {item.label}
              </span>
              {item.keys && (
                <span aria-hidden="true" className="keys">
                  {item.keys}
                </span>
              )}
            </button>
          ))}
        </div>
      )}
    </div>
  )
}
