import type { Decided } from '../../checks/decisions.ts'
import { stateWord } from './groups.ts'

/** A shape and a word for the state: colour is never the only sign. */
export function StateMark({ item }: { readonly item: Decided }) {
  const word = stateWord(item)
  const tone = word === 'open' || word === 'reopened' ? item.finding.severity : word
  return (
    <span className={`state-mark tone-${tone.replace(' ', '-')}`}>
      <svg width="12" height="12" viewBox="0 0 12 12" aria-hidden="true">
        {word === 'accepted' ? (
          <path d="M1.5 6.5 4.5 9.5 10.5 2.5" fill="none" stroke="currentColor" strokeWidth="2" />
        ) : word === 'not checked' ? (
          <path d="M2 6h8" stroke="currentColor" strokeWidth="2" strokeDasharray="2 1.5" />
        ) : item.finding.severity === 'error' ? (
          <path d="M6 .8 11.2 6 6 11.2 .8 6Z" fill="currentColor" />
        ) : item.finding.severity === 'warning' ? (
          <path d="M6 1.5 11 10.5H1Z" fill="none" stroke="currentColor" strokeWidth="1.6" />
        ) : (
          <circle cx="6" cy="6" r="3" fill="none" stroke="currentColor" strokeWidth="1.6" />
        )}
      </svg>
      {word}
    </span>
  )
}
