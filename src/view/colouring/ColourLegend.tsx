import { Color } from 'three'
import { useStore } from 'zustand'
import { type ColourBy, colouringStore } from '../../store/colouring.ts'
import { pickNone, pickRuns, runSelectionStore } from '../../store/runSelection.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { SeverityMark } from '../panels/SeverityMark.tsx'
import { isLight } from '../scene/tubeBands.ts'
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

/** A piece of such a tube: its colour and its bands. */
function Swatch({ colour, bands }: Pick<ColourGroup, 'colour' | 'bands'>) {
  const fill = getComputedStyle(document.documentElement).getPropertyValue(`--${colour}`).trim()
  const band = isLight(new Color(fill || '#888888')) ? '#101816' : '#ffffff'
  const long = bands.reduce((sum, w) => sum + w, 0) + Math.max(0, bands.length - 1) * 0.8
  let at = 17 - (long * SWATCH_OD) / 2
  return (
    <svg className="swatch" viewBox="0 0 34 13" aria-hidden="true">
      <rect x="0.5" y="0.5" width="33" height="12" rx="2" fill={`var(--${colour})`} stroke="var(--ink-3)" />
      {bands.map((width, i) => {
        const x = at
        at += (width + 0.8) * SWATCH_OD
        // biome-ignore lint/suspicious/noArrayIndexKey: a code's bands have no other name than their place
        return <rect key={i} x={x} y="1" width={width * SWATCH_OD} height="11" fill={band} />
      })}
    </svg>
  )
}
/** What one OD of a band's width is in the legend, px: bands there are thinner, so that the longest code fits. */
const SWATCH_OD = 4

function Entry({ group }: { group: ColourGroup }) {
  const { picked } = useStore(runSelectionStore)
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
        <Swatch {...group} />
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
