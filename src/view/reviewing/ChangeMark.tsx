import type { ChangeWord } from './changeRows.ts'

const PATHS: Readonly<Record<ChangeWord, string>> = {
  added: 'M6 1.5v9M1.5 6h9',
  removed: 'M1.5 6h9',
  changed: 'M1 7.5C2.5 3.5 4.5 3.5 6 6s3.5 2.5 5-1.5',
  appeared: 'M6 1v6M6 9.5v1.5',
  worse: 'M6 1.5v9M2.5 7 6 10.5 9.5 7',
  gone: 'M1.5 6.5 4.5 9.5 10.5 2.5',
  better: 'M6 10.5v-9M2.5 5 6 1.5 9.5 5',
  'not known': 'M3.5 4a2.5 2.5 0 1 1 3.5 2.3L6 7.2V8M6 10v1',
  'not checked': 'M2 6h2.5M7.5 6H10',
}
const TONES: Partial<Record<ChangeWord, string>> = {
  appeared: 'tone-error',
  worse: 'tone-error',
  gone: 'tone-accepted',
  better: 'tone-accepted',
  'not known': 'tone-not-checked',
  'not checked': 'tone-not-checked',
}

/** A shape and a word for what became of something: colour is never the only sign. */
export const ChangeMark = ({ word }: { readonly word: ChangeWord }) => (
  <span className={`state-mark ${TONES[word] ?? ''}`}>
    <svg width="12" height="12" viewBox="0 0 12 12" aria-hidden="true">
      <path d={PATHS[word]} fill="none" stroke="currentColor" strokeWidth="1.8" />
    </svg>
    {word}
  </span>
)
