import { CornerDownRight, Eye, EyeOff } from 'lucide-react'
import { type HTMLAttributes, memo } from 'react'
import { hideRuns } from '../../store/runSelection.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { MiddleCut } from '../MiddleCut.tsx'
import type { RunRow } from './runRows.ts'
import { SeverityMark } from './SeverityMark.tsx'

interface Props extends RunRow {
  /** From 0. */
  readonly place: number
  /** px */
  readonly height: number
  /** After the length. */
  readonly unit: string
  /** The row that Tab comes to. */
  readonly active: boolean
  readonly inHand: boolean
  readonly selected: boolean
  readonly hovered: boolean
  readonly picked: boolean
  readonly hidden: boolean
}

/** One run in the list. What it does on keys and clicks is the list's to say, which listens for all its rows. */
export const RunRowView = memo(function RunRowView(p: Props) {
  const session = sessionStore.getState
  const marks = [
    'run-row',
    p.inHand && 'current',
    p.selected && 'selected',
    p.hovered && 'hovered',
    p.hidden && 'unseen',
  ]
  return (
    // biome-ignore lint/a11y/useSemanticElements: rows of a list of which only those in sight are in the page
    <div
      role="row"
      aria-rowindex={p.place + 1}
      aria-selected={p.picked}
      aria-current={p.inHand}
      tabIndex={p.active ? 0 : -1}
      data-run={p.id}
      className={marks.filter(Boolean).join(' ')}
      style={{ top: p.place * p.height, height: p.height }}
      onPointerEnter={() => session().setHover({ kind: 'run', run: p.id })}
      onPointerLeave={() => {
        const { hover, setHover } = session()
        if (hover?.kind === 'run' && hover.run === p.id) setHover(null)
      }}
    >
      <Cell className="run-pick">
        <input type="checkbox" tabIndex={-1} aria-label={`Select ${p.tag}`} checked={p.picked} readOnly />
      </Cell>
      <Cell className="run-tag">
        <MiddleCut text={p.tag} />
      </Cell>
      <Cell className="run-length">
        {p.length !== null && <span className="unit">cut </span>}
        {p.lengthText}
        {p.length !== null && <span className="unit"> {p.unit}</span>}
      </Cell>
      <span role="presentation" className="run-second">
        <Cell className="run-about" title={[p.size, p.service].filter(Boolean).join(' · ')}>
          {p.unit === 'mm' ? p.size.replace(/ mm$/, '') : p.size}
          {p.service && ` · ${p.service}`}
        </Cell>
        <Cell className="run-bends" title="Bends">
          {p.bends !== null && (
            <>
              <CornerDownRight size={12} aria-hidden /> {p.bends}
              <span className="hidden-label">{p.bends === 1 ? ' bend' : ' bends'}</span>
            </>
          )}
        </Cell>
      </span>
      <Cell className={`run-state ${p.state}`} title={p.stateText}>
        <SeverityMark of={p.state} size={14} />
        <span className="hidden-label">{p.stateText}</span>
      </Cell>
      <Cell className="run-eye">
        <button
          type="button"
          className="icon"
          tabIndex={p.active ? 0 : -1}
          aria-pressed={p.hidden}
          aria-label={`Hide ${p.tag}`}
          title={p.hidden ? 'Show in 3D' : 'Hide in 3D'}
          onClick={() => hideRuns([p.id], !p.hidden)}
        >
          {p.hidden ? <EyeOff size={14} aria-hidden /> : <Eye size={14} aria-hidden />}
        </button>
      </Cell>
    </div>
  )
})

const Cell = (props: HTMLAttributes<HTMLSpanElement>) => (
  // biome-ignore lint/a11y/useSemanticElements: as the row
  // biome-ignore lint/a11y/useFocusableInteractive: the row has the focus
  <span role="gridcell" {...props} />
)
