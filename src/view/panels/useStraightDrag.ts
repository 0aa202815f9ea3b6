import { type PointerEvent, useEffect, useRef, useState } from 'react'
import type { LengthUnit } from '../../document/quantity.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { previewEdit } from '../fields/applyEdit.ts'
import { lengthStep } from '../fields/quantityKind.ts'
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
 * Lands on whole steps of the unit; Alt holds that off.
 */
export function useStraightDrag(runId: string, unit: LengthUnit) {
  const [drag, setDrag] = useState<Drag | null>(null)
  const refused = useRef<string | null>(null)

  useEffect(() => {
    if (!drag) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      event.preventDefault()
      event.stopPropagation()
      documentStore.getState().cancel()
      setDrag(null)
    }
    window.addEventListener('keydown', onKey, { capture: true })
    return () => window.removeEventListener('keydown', onKey, { capture: true })
  }, [drag])

  return {
    dragging: drag?.straight ?? null,
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
        setDrag({ straight, from: length, startX: event.clientX, keep, pinPx, scale })
        sessionStore.getState().select({ kind: 'straight', run: runId, straight })
      },
      onPointerMove: (event: PointerEvent<SVGElement>) => {
        if (!drag || drag.straight !== straight) return
        const by = ((event.clientX - drag.startX) / drag.scale.pxPerMm) * (drag.keep === 'A' ? 1 : -1)
        if (by === 0) return
        const step = lengthStep(unit)
        const to = event.altKey ? drag.from + by : Math.round((drag.from + by) / step) * step
        refused.current = previewEdit(rowEdit(runId, 'straight', straight)(to))
      },
      onPointerUp: () => {
        if (!drag) return
        documentStore.getState().settle(`Change straight ${straight + 1}`)
        if (refused.current) sessionStore.getState().say(refused.current)
        setDrag(null)
      },
      onPointerCancel: () => {
        documentStore.getState().cancel()
        setDrag(null)
      },
    }),
  }
}
