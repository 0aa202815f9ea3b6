import { ArrowDown, ArrowUp, SlidersHorizontal } from 'lucide-react'
import { useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { type RunColumn, type RunListState, runListStore } from '../../store/runListStore.ts'
import { pickNone, pickRuns, runSelectionStore } from '../../store/runSelection.ts'
import type { RunRow } from './runRows.ts'

const STATES: readonly (readonly [NonNullable<RunListState['state']>, string])[] = [
  ['error', 'With errors'],
  ['warning', 'With warnings'],
  ['notChecked', 'Not checked'],
  ['accepted', 'Accepted'],
  ['note', 'With notes'],
  ['ok', 'No findings'],
]
const ORDERS: readonly (readonly [RunColumn, string])[] = [
  ['tag', 'By tag'],
  ['service', 'By service'],
  ['size', 'By size'],
  ['length', 'By cut length'],
  ['bends', 'By bends'],
  ['state', 'Worst first'],
]

/** Which runs are listed, in which order, and a box that picks all of them. */
export function RunTools({ rows }: { rows: readonly RunRow[] }) {
  const { text, state, sort, down } = useStore(runListStore)
  const picked = useStore(runSelectionStore, s => s.picked)
  const [open, setOpen] = useState(false)
  const box = useRef<HTMLInputElement>(null)
  const many = rows.filter(r => picked.has(r.id)).length
  const all = many > 0 && many === rows.length
  useEffect(() => {
    if (box.current) box.current.indeterminate = many > 0 && !all
  }, [many, all])
  return (
    <div className="run-tools">
      <label className="run-pick">
        <input
          ref={box}
          type="checkbox"
          aria-label="Select all listed runs"
          checked={all}
          disabled={rows.length === 0}
          onChange={() => (all ? pickNone() : pickRuns(rows.map(r => r.id)))}
        />
      </label>
      <input
        type="search"
        className="run-filter"
        aria-label="Show only runs with these words in tag, service or size"
        placeholder="Tag, service or size"
        value={text}
        onChange={event => runListStore.setState({ text: event.currentTarget.value })}
      />
      <button
        type="button"
        className="icon run-more"
        aria-expanded={open}
        aria-label="State and order"
        title="State and order"
        onClick={() => setOpen(!open)}
      >
        <SlidersHorizontal size={14} aria-hidden />
      </button>
      <div className={open ? 'run-order open' : 'run-order'}>
        <Choice
          label="State"
          none="All states"
          choices={STATES}
          value={state}
          onChange={chosen => runListStore.setState({ state: chosen })}
        />
        <Choice
          label="Order"
          none="As entered"
          choices={ORDERS}
          value={sort}
          onChange={chosen => runListStore.setState({ sort: chosen })}
        />
        <button
          type="button"
          className="icon"
          aria-pressed={down}
          aria-label="Reverse order"
          title="Reverse order"
          onClick={() => runListStore.setState({ down: !down })}
        >
          {down ? <ArrowUp size={14} aria-hidden /> : <ArrowDown size={14} aria-hidden />}
        </button>
      </div>
    </div>
  )
}

interface ChoiceProps<T extends string> {
  readonly label: string
  /** What stands for none of them. */
  readonly none: string
  readonly choices: readonly (readonly [T, string])[]
  readonly value: T | null
  onChange(chosen: T | null): void
}

function Choice<T extends string>({ label, none, choices, value, onChange }: ChoiceProps<T>) {
  return (
    <select
      aria-label={label}
      value={value ?? ''}
      onChange={event => onChange(choices.find(([c]) => c === event.currentTarget.value)?.[0] ?? null)}
    >
      <option value="">{none}</option>
      {choices.map(([choice, name]) => (
        <option key={choice} value={choice}>
          {name}
        </option>
      ))}
    </select>
  )
}
