import { type PointerEvent, useEffect, useRef, useState } from 'react'
import type { LengthUnit } from '../../document/quantity.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { previewEdit } from '../fields/applyEdit.ts'
import { lengthKind, lengthStep, lengthUnitWord } from '../fields/quantityKind.ts'
import { pressKey, soFar, type TypedFields, typedFields } from '../scene/typedFields.ts'
import { rowEdit } from './rowEdits.ts'
import { pinned, type Scale, toPx, type Unrolled } from './unrolledLayout.ts'

interface Drag {
  readonly straight: number
  readonly from: number
  readonly startX: number
  /** The end that holds still, and where it is drawn. */
  readonly keep: 'A' | 'B'
  readonly pinPx: number
  readonly scale: Scale
}

/**
 * Dragging the end of a straight: a preview while it lasts, one step when it is let go, nothing after Escape.
 * Lands on whole steps of the unit; Alt holds that off. Typed figures win over the pointer: Enter sets them exactly.
 */
export function useStraightDrag(runId: string, unit: LengthUnit) {
  const [drag, setDrag] = useState<Drag | null>(null)
  const refused = useRef<string | null>(null)
  /** Figures typed while it lasts: they win over the pointer until they are taken back. */
  const typed = useRef<TypedFields>(typedFields(['by']))
  const [text, setText] = useState('')
  const isTyped = () => soFar(typed.current, unit).by !== undefined || typed.current.text !== ''
  const finish = (straight: number) => {
    // A figure that is refused leaves the straight as it was: what was shown last is not what was typed.
    if (refused.current && isTyped()) documentStore.getState().cancel()
    else documentStore.getState().settle(`Change straight ${straight + 1}`)
    if (refused.current) sessionStore.getState().say(`Straight ${straight + 1}: ${refused.current}`)
    else {
      const now = solvedRunOf(documentStore.getState().settled, runId)?.route?.straights[straight]
      if (now !== undefined)
        sessionStore
          .getState()
          .say(`Straight ${straight + 1} is ${lengthKind(unit).show(now)} ${lengthUnitWord(unit)}.`)
    }
    setDrag(null)
  }

  useEffect(() => {
    if (!drag) return
    const onKey = (event: KeyboardEvent) => {
      if (['Alt', 'Shift', 'Control', 'Meta'].includes(event.key)) return
      event.preventDefault()
      event.stopImmediatePropagation()
      if (event.ctrlKey || event.metaKey) return
      if (event.key === 'Escape') {
        documentStore.getState().cancel()
        setDrag(null)
        return
      }
      const pressed = pressKey(typed.current, event.key, unit)
      if (!pressed) return
      typed.current = pressed.fields
      setText(pressed.fields.text)
      const to = soFar(pressed.fields, unit).by
      refused.current = pressed.fields.refused || null
      if (to !== undefined) refused.current = previewEdit(rowEdit(runId, 'straight', drag.straight)(to))
      if (pressed.done && to !== undefined) finish(drag.straight)
    }
    window.addEventListener('keydown', onKey, { capture: true })
    return () => window.removeEventListener('keydown', onKey, { capture: true })
  })

  return {
    dragging: drag?.straight ?? null,
    /** What is being typed meanwhile, or ''. */
    typing: drag ? text : '',
    /** The scale to draw with: while dragging it keeps its size, and the end that stays put keeps its place. */
    held: (drawn: Unrolled, fitted: Scale): Scale =>
      drag ? pinned(drag.scale, drag.keep === 'A' ? drawn.faceA : drawn.faceB, drag.pinPx) : fitted,
    handle: (straight: number, length: number, drawn: Unrolled, scale: Scale) => ({
      onPointerDown: (event: PointerEvent<SVGElement>) => {
        if (event.button !== 0) return
        event.preventDefault()
        event.stopPropagation()
        event.currentTarget.setPointerCapture(event.pointerId)
        const keep = sessionStore.getState().keepEnd
        const pinPx = toPx(scale, keep === 'A' ? drawn.faceA : drawn.faceB)
        refused.current = null
        typed.current = typedFields(['by'])
        setText('')
        setDrag({ straight, from: length, startX: event.clientX, keep, pinPx, scale })
        sessionStore.getState().select({ kind: 'straight', run: runId, straight })
      },
      onPointerMove: (event: PointerEvent<SVGElement>) => {
        if (!drag || drag.straight !== straight || isTyped()) return
        const by = ((event.clientX - drag.startX) / drag.scale.pxPerMm) * (drag.keep === 'A' ? 1 : -1)
        if (by === 0) return
        const step = lengthStep(unit)
        const to = event.altKey ? drag.from + by : Math.round((drag.from + by) / step) * step
        refused.current = previewEdit(rowEdit(runId, 'straight', straight)(to))
      },
      onPointerUp: () => {
        if (!drag) return
        if (typed.current.text !== '') {
          const read = pressKey(typed.current, 'Enter', unit)
          refused.current = read?.fields.refused || refused.current
        }
        finish(straight)
      },
      onPointerCancel: () => {
        documentStore.getState().cancel()
        setDrag(null)
      },
    }),
  }
}
