import type { Progress } from '../../store/modelReader.ts'

/** How far reading is; without a figure where nothing can tell. */
export function ReadProgress({ progress: { stage, done } }: { progress: Progress }) {
  return (
    <div className="read-progress">
      <progress aria-label={stage} max={1} {...(done === null ? {} : { value: done })} />
      <output aria-live="polite">
        {stage}
        {done === null ? '…' : ` ${Math.round(100 * done)} %`}
      </output>
    </div>
  )
}
