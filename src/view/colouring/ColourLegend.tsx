import { useStore } from 'zustand'
import { type ColourBy, colouringStore } from '../../store/colouring.ts'
import { pickedStore, pickNone, pickRuns } from '../../store/pickedRuns.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { SeverityMark } from '../panels/SeverityMark.tsx'
import { useOneStop } from '../useOneStop.ts'
import { useDocument } from '../useStore.ts'
import type { ColourGroup } from './groups.ts'
import { useColouring } from './useColouring.ts'
import './colouring.css'

const CHOICES: readonly (readonly [ColourBy, string])[] = [
  ['none', 'single colour'],
  ['state', 'state'],
  ['size', 'tube size'],
  ['service', 'service'],
]

/** What the tubes are coloured by, and which colour is which; an entry picks its runs. */
export function ColourLegend() {
  const by = useStore(colouringStore, s => s.by)
  const runs = useDocument(s => s.document.runs.length)
  const groups = useColouring()
  const entries = useOneStop<HTMLUListElement>()
  if (runs < 2) return null
  return (
    <section className="legend" aria-label="Colours of the tubes">
      <label>
        Colour by
        <select
          value={by}
          onChange={event => colouringStore.setState({ by: event.currentTarget.value as ColourBy })}
        >
          {CHOICES.map(([value, word]) => (
            <option key={value} value={value}>
              {word}
            </option>
          ))}
        </select>
      </label>
      {groups.length > 0 && (
        <ul {...entries}>
          {groups.map(group => (
            <Entry key={group.key} group={group} />
          ))}
        </ul>
      )}
    </section>
  )
}

function Entry({ group }: { group: ColourGroup }) {
  const { picked } = useStore(pickedStore)
  const isPicked = picked.size === group.runs.length && group.runs.every(id => picked.has(id))
  const runs = `${group.runs.length} ${group.runs.length === 1 ? 'run' : 'runs'}`
  return (
    <li>
      <button
        type="button"
        className={group.state ? 'marked' : ''}
        aria-pressed={isPicked}
        title={isPicked ? `Deselect ${runs}` : `Select ${runs}: ${group.name}`}
        onClick={() => {
          if (isPicked) pickNone()
          else pickRuns(group.runs)
          sessionStore.getState().say(isPicked ? 'No run is selected.' : `${runs} selected: ${group.name}.`)
        }}
      >
        <span className="swatch" style={{ background: `var(--${group.colour})` }} aria-hidden="true" />
        {group.state && <SeverityMark of={group.state} size={13} />}
        <span className="group-name">{group.name}</span>
        <span className="number">
          {group.runs.length}
          <span className="hidden-label"> {group.runs.length === 1 ? 'run' : 'runs'}</span>
        </span>
      </button>
    </li>
  )
}
