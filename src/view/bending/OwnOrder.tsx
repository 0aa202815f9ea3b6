import { useId, useState } from 'react'
import type { OrderedBend } from '../../bench/layOut.ts'
import { orderWords, readOrder } from '../../bench/orderText.ts'
import type { Progress } from './progress.ts'

/** The user's custom order, typed as it is said: "1A 4B 2A", or "B 3 2 1" when one end leads throughout. */
export function OwnOrder({
  progress,
  take,
}: {
  progress: Progress
  take: (order: readonly OrderedBend[]) => void
}) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState<string | null>(null)
  const use = () => {
    const order = readOrder(text ?? '', progress.order.length)
    if (typeof order === 'string') return setReason(order)
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
