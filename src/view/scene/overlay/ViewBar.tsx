import { useState } from 'react'
import { useStore } from 'zustand'
import { exactLength, formatLength, parseLength } from '../../../document/quantity.ts'
import { type CameraRequest, sessionStore } from '../../../store/sessionStore.ts'
import { useOneStop } from '../../useOneStop.ts'
import { useSession } from '../../useStore.ts'
import { sceneStore } from '../sceneStore.ts'

const VIEWS: readonly { readonly request: CameraRequest; readonly word: string; readonly key: string }[] = [
  { request: { kind: 'fit' }, word: 'All', key: 'F' },
  { request: { kind: 'fitSelection' }, word: 'Selected', key: '⇧F' },
  { request: { kind: 'look', from: 'iso' }, word: 'Iso', key: '⇧1' },
  { request: { kind: 'look', from: 'top' }, word: 'Top', key: '⇧2' },
  { request: { kind: 'look', from: 'front' }, word: 'Front', key: '⇧3' },
  { request: { kind: 'look', from: 'right' }, word: 'Right', key: '⇧4' },
  { request: { kind: 'look', from: 'left' }, word: 'Left', key: '⇧5' },
  { request: { kind: 'look', from: 'back' }, word: 'Back', key: '⇧6' },
  { request: { kind: 'look', from: 'bottom' }, word: 'Below', key: '⇧7' },
]

/** Which tool clicks mean, and where to look from. */
export function ViewBar() {
  const tool = useSession(s => s.tool)
  const drawing = useSession(s => s.mode === 'layingOut')
  const projection = useSession(s => s.projection)
  const { set, look } = sessionStore.getState()
  const tools = useOneStop<HTMLDivElement>()
  const views = useOneStop<HTMLDivElement>()
  return (
    <>
      {drawing && (
        <div className="sceneBar tools" role="toolbar" aria-label="Tool in 3D" {...tools}>
          <button type="button" aria-pressed={tool === 'pick'} onClick={() => set({ tool: 'pick' })}>
            Pick and drag
          </button>
          <button
            type="button"
            aria-pressed={tool === 'place'}
            aria-keyshortcuts="p"
            onClick={() => set({ tool: tool === 'place' ? 'pick' : 'place' })}
          >
            Place points <kbd>P</kbd>
          </button>
          {tool === 'place' && <PlaneHeight />}
        </div>
      )}
      <div className="sceneBar views" role="toolbar" aria-label="Where to look from" {...views}>
        {VIEWS.map(({ request, word, key }) => (
          <button
            type="button"
            key={word}
            aria-keyshortcuts={key.replace('⇧', 'Shift+')}
            title={`${word} (${key.replace('⇧', 'Shift+')})`}
            onClick={() => look(request)}
          >
            {word} <kbd>{key}</kbd>
          </button>
        ))}
        <button
          type="button"
          aria-keyshortcuts="o"
          aria-pressed={projection === 'orthographic'}
          onClick={() => set({ projection: projection === 'orthographic' ? 'perspective' : 'orthographic' })}
        >
          Parallel <kbd>O</kbd>
        </button>
      </div>
    </>
  )
}

/** The height that clicks land on: a length in any unit, taken on Enter or on leaving, or refused with a reason. */
function PlaneHeight() {
  const unit = useSession(s => s.unit)
  const z = useStore(sceneStore, s => s.planeZ)
  const [typed, setTyped] = useState<{ text: string; z: number; unit: string } | null>(null)
  const [refused, setRefused] = useState('')
  // What was typed against another height or unit is stale.
  const text = typed?.z === z && typed.unit === unit ? typed.text : null
  const setText = (next: string | null) => {
    setRefused('')
    setTyped(next === null ? null : { text: next, z, unit })
  }
  const take = () => {
    if (text === null) return
    const parsed = parseLength(text, unit)
    if (!parsed.ok) return setRefused(parsed.reason)
    setText(null)
    sceneStore.setState({ planeZ: parsed.mm })
  }
  return (
    <label className="planeHeight">
      Plane z
      <input
        className="number"
        inputMode="decimal"
        size={7}
        value={text ?? formatLength(z, unit)}
        aria-invalid={refused !== ''}
        aria-describedby={refused ? 'plane-refused' : undefined}
        onFocus={() => setText(exactLength(z, unit))}
        onChange={e => setText(e.target.value)}
        onBlur={take}
        onKeyDown={e => {
          if (e.key === 'Enter') take()
          if (e.key === 'Escape') setText(null)
        }}
      />
      {unit === 'mm' ? 'mm' : 'in'}
      {refused && (
        <span id="plane-refused" role="alert" className="readoutBroken">
          {refused}
        </span>
      )}
    </label>
  )
}
