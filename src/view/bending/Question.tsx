import { type ReactNode, useEffect, useRef } from 'react'

export interface Answer {
  readonly says: string
  take(): void
}

interface Props {
  readonly children: ReactNode
  /** The first is what a slip wants: it has the keyboard. */
  readonly answers: readonly Answer[]
}

/** Something that does not fit together, asked about before it is used. */
export function Question({ children, answers }: Props) {
  const first = useRef<HTMLButtonElement>(null)
  useEffect(() => first.current?.focus({ preventScroll: true }), [])
  return (
    <div className="bending-ask" role="alert">
      <p>{children}</p>
      <div className="bending-row">
        {answers.map((answer, i) => (
          <button key={answer.says} ref={i === 0 ? first : null} type="button" onClick={answer.take}>
            {answer.says}
          </button>
        ))}
      </div>
    </div>
  )
}
