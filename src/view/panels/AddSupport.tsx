import { type FormEvent, useId, useState } from 'react'
import { addSupport } from '../../document/supportEdits.ts'
import type { Run } from '../../document/types.ts'
import { addScaled } from '../../geometry/vec3.ts'
import type { LinePiece } from '../../solve/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'

/** Puts a support on a straight, at a typed distance from where it starts; its middle when nothing is typed. */
export function AddSupport({ run, piece, from }: { run: Run; piece: LinePiece; from: string }) {
  const id = useId()
  const unit = useSession(state => state.unit)
  const isPointing = useSession(state => state.tool === 'support')
  const kind = lengthKind(unit)
  const [text, setText] = useState('')
  const [reason, setReason] = useState('')
  const length = piece.to - piece.from
  if (length <= 0) return null
  const add = (event: FormEvent) => {
    event.preventDefault()
    const read = text.trim() === '' ? ({ ok: true, value: length / 2 } as const) : kind.parse(text)
    if (!read.ok) return setReason(read.reason)
    if (!(read.value >= 0 && read.value <= length))
      return setReason(`The straight is ${kind.show(length)} ${lengthUnitWord(unit)} long: 0 to that.`)
    let made = ''
    const refused = applyEdit('Add a support', settled => {
      const at = addScaled(piece.start, piece.direction, read.value)
      const { document, supportId } = addSupport(settled, run.id, at)
      made = supportId
      return document
    })
    if (refused !== null) return setReason(refused)
    setText('')
    setReason('')
    sessionStore.getState().select({ kind: 'support', support: made })
    sessionStore.getState().say('Support added. Its position and order text are under Properties.')
  }
  return (
    <form className="add-support" onSubmit={add}>
      <div className="field">
        <label htmlFor={id} className="field-name">
          Support at
        </label>
        <span className="field-box">
          <input
            id={id}
            className="number"
            value={text}
            placeholder={kind.show(length / 2)}
            autoComplete="off"
            spellCheck={false}
            aria-invalid={reason !== ''}
            aria-describedby={`${id}-said`}
            onChange={event => setText(event.currentTarget.value)}
          />
          <span className="unit">{lengthUnitWord(unit)}</span>
        </span>
        <span
          id={`${id}-said`}
          className={reason ? 'field-reason' : 'field-hint'}
          role={reason ? 'alert' : undefined}
        >
          {reason || `from ${from}`}
        </span>
      </div>
      <div className="add-support-buttons">
        <button type="submit">Add support</button>
        <button
          type="button"
          aria-pressed={isPointing}
          title="Then a click on the tube puts one there; Esc stops"
          onClick={() => sessionStore.getState().set({ tool: isPointing ? 'pick' : 'support' })}
        >
          Point in 3D
        </button>
      </div>
    </form>
  )
}
