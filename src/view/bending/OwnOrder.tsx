import { useId, useState } from 'react'
import { idleWay, WAY_WANTED } from '../../bender/idleWay.ts'
import { orderWords, readOrder } from '../../bender/orderText.ts'
import type { OrderedBend } from '../../solve/bendOrder.ts'
import type { Programme } from './programme.ts'
import type { Progress } from './progress.ts'

/** The user's custom order, typed as it is said: "1A 4B 2A", or "B 3 2 1" when one end leads throughout. */
export function OwnOrder({
  programme: { layout, stock },
  progress,
  take,
}: {
  programme: Programme
  progress: Progress
  take: (order: readonly OrderedBend[]) => void
}) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState<string | null>(null)
  const use = () => {
    const order = readOrder(text ?? '', progress.order.length)
    if (typeof order === 'string') return setReason(order)
    const idle = idleWay(order, stock.planes, layout)
    if (idle !== null) return setReason(`bend ${idle.bend + 1}: found ${idle.found}; wanted ${WAY_WANTED}`)
    setReason(null)
    setText(null)
    take(order)
  }
  return (
    <form
      className="bending-row own"
      onSubmit={event => {
        event.preventDefault()
        use()
      }}
    >
      <label htmlFor={id}>custom order</label>
      <input
        id={id}
        value={text ?? (progress.lead === 'own' ? orderWords(progress.order) : '')}
        placeholder="1A 2A 3B"
        autoComplete="off"
        aria-invalid={reason !== null}
        aria-describedby={`${id}-said`}
        onChange={event => {
          setText(event.currentTarget.value)
          setReason(null)
        }}
      />
      <button type="submit" aria-pressed={progress.lead === 'own'} disabled={text === null}>
        {progress.lead === 'own' && text === null ? '✓ used' : 'Use custom order'}
      </button>
      <span id={`${id}-said`} role={reason ? 'alert' : undefined} className={reason ? 'padReason' : 'quiet'}>
        {reason ??
          'bend numbers from end A, each with the end that leads; CW or CCW after a bend is the direction of its half turn'}
      </span>
    </form>
  )
}
