import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit, previewEdit } from './applyEdit.ts'
import type { QuantityKind } from './quantityKind.ts'

export interface DraftOptions {
  readonly value: number
  readonly kind: QuantityKind
  /** What the step will be called in the history. */
  readonly label: string
  readonly edit: (value: number) => Edit
  /** What stands in the field while nobody has given the figure: the value only holds its place then. */
  readonly unknown?: string | undefined
  /** Why a figure is asked about before it is applied, or null. */
  readonly ask?: (value: number) => string | null
}

export interface Draft {
  /** What the input holds; null when nothing is being typed. */
  readonly text: string | null
  readonly reason: string | null
  /** The reason is a question: the figure is applied when it is meant. */
  readonly isAsking: boolean
  begin(text?: string): void
  change(text: string): void
  /** Applies what is typed, `meant` without a question. False when it was refused: the text stays, with the reason. */
  commit(meant?: boolean): boolean
  /** Escape: back to the stored value. */
  restore(): void
  /** Adds steps (negative: takes away) and shows the result at once; Shift ×10, Alt ÷10. */
  step(by: number, event: Pick<KeyboardEvent, 'shiftKey' | 'altKey'>): void
}

/** More decimals than this nobody types: a field opens with the figure as it is shown, and keeps the exact one. */
const TYPED_DECIMALS = 4

/** What a field opens with: the exact figure where a person would write it so, else as it is shown. */
const openingText = (kind: QuantityKind, value: number): string => {
  const exact = kind.exact(value)
  return (/\.(\d*)/.exec(exact)?.[1]?.length ?? 0) <= TYPED_DECIMALS ? exact : kind.show(value)
}

/** Text on its way to becoming a stored figure: applied, or refused with the reason; never dropped. */
export function useDraft({ value, kind, label, edit, unknown, ask }: DraftOptions): Draft {
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState<string | null>(null)
  const [isAsking, setAsking] = useState(false)
  const shown = () => (unknown === undefined ? openingText(kind, value) : '')
  const opened = useRef('')
  const previewed = useRef(false)
  const left = useRef<string | null>(null)
  left.current = text !== null && reason !== null ? `"${text}" was not applied: ${reason}` : null
  useEffect(
    () => () => {
      if (left.current) sessionStore.getState().say(left.current)
    },
    [],
  )

  // Handlers of one event still see the text before it: what is live is kept apart, so nothing is applied twice.
  const live = useRef<string | null>(null)
  const hold = (typed: string | null) => {
    live.current = typed
    setText(typed)
  }
  const end = () => {
    left.current = null
    hold(null)
    setReason(null)
    previewed.current = false
  }
  const begin = (typed?: string) => {
    if (live.current !== null) return
    opened.current = shown()
    hold(typed ?? opened.current)
    setReason(null)
  }
  return {
    text,
    reason,
    isAsking: isAsking && reason !== null,
    begin,
    change(typed) {
      if (live.current === null) opened.current = shown()
      hold(typed)
      setReason(null)
      setAsking(false)
    },
    commit(meant = false) {
      const typed = live.current
      if (typed === null) return true
      if (typed.trim() === opened.current) {
        if (previewed.current) documentStore.getState().cancel()
        end()
        return true
      }
      const read = kind.parse(typed)
      const asked = read.ok && !meant ? (ask?.(read.value) ?? null) : null
      setAsking(asked !== null)
      const refused = asked ?? (read.ok ? applyEdit(label, edit(read.value)) : read.reason)
      if (refused === null) end()
      else {
        setReason(refused)
        sessionStore.getState().say(`${label}: ${refused}`)
      }
      return refused === null
    },
    restore() {
      if (previewed.current) documentStore.getState().cancel()
      end()
    },
    step(by, event) {
      const typed = live.current
      const isOwn = typed === null || (typed === opened.current && !previewed.current)
      const from = isOwn ? { ok: true as const, value } : kind.parse(typed)
      if (!from.ok) {
        setReason(from.reason)
        return
      }
      if (typed === null) opened.current = shown()
      const size = kind.step * (event.shiftKey ? 10 : 1) * (event.altKey && kind.unitWord !== '' ? 0.1 : 1)
      // Steps land on figures a person would write: 0.1 + 0.2 is 0.3 here.
      const next = Number((from.value + by * size).toPrecision(12))
      hold(kind.exact(next))
      previewed.current = true
      setReason(previewEdit(edit(next)))
    },
  }
}
