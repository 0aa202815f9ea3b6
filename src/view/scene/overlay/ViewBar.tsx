import { useState } from 'react'
import { useStore } from 'zustand'
import { exactLength, formatLength, parseLength } from '../../../document/quantity.ts'
import { type CameraRequest, sessionStore } from '../../../store/sessionStore.ts'
import { keyText } from '../../shell/keyText.ts'
import { useOneStop } from '../../useOneStop.ts'
import { useSession } from '../../useStore.ts'
import { turnPlane } from '../gestures/placePoint.ts'
import type { Axis } from '../pointLimits.ts'
import { sceneStore } from '../sceneStore.ts'

const VIEWS: readonly { readonly request: CameraRequest; readonly word: string; readonly key: string }[] = [
  { request: { kind: 'fit' }, word: 'All', key: 'V A' },
  { request: { kind: 'fitSelection' }, word: 'Selected', key: 'V S' },
  { request: { kind: 'look', from: 'iso' }, word: 'Iso', key: 'V I' },
  { request: { kind: 'look', from: 'top' }, word: 'Top', key: 'V T' },
  { request: { kind: 'look', from: 'front' }, word: 'Front', key: 'V F' },
  { request: { kind: 'look', from: 'right' }, word: 'Right', key: 'V R' },
  { request: { kind: 'look', from: 'left' }, word: 'Left', key: 'V L' },
  { request: { kind: 'look', from: 'back' }, word: 'Back', key: 'V B' },
  { request: { kind: 'look', from: 'bottom' }, word: 'Under', key: 'V U' },
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
          {tool === 'place' && <PlaneChoice />}
        </div>
      )}
      <div className="sceneBar views" role="toolbar" aria-label="Where to look from" {...views}>
        <span className="viewKey" title="V, then the letter on a button">
          View <kbd>V</kbd>
        </span>
        {VIEWS.map(({ request, word, key }) => (
          <button type="button" key={word} title={`${word} (${keyText(key)})`} onClick={() => look(request)}>
            {word} <kbd>{key.split(' ')[1]}</kbd>
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

const PLANES: readonly { readonly axis: Axis; readonly name: string }[] = [
  { axis: 'z', name: 'level' },
  { axis: 'x', name: 'across x' },
  { axis: 'y', name: 'across y' },
]

/** The plane that clicks land on: which way it lies, how far along, whether faces come first and whether it follows. */
function PlaneChoice() {
  const unit = useSession(s => s.unit)
  const { plane, planeFollows, onFaces } = useStore(sceneStore)
  const [typed, setTyped] = useState<{ text: string; at: number; unit: string } | null>(null)
  const [refused, setRefused] = useState('')
  // What was typed against another place or unit is stale.
  const text = typed?.at === plane.at && typed.unit === unit ? typed.text : null
  const setText = (next: string | null) => {
    setRefused('')
    setTyped(next === null ? null : { text: next, at: plane.at, unit })
  }
  const take = () => {
    if (text === null) return
    const parsed = parseLength(text, unit)
    if (!parsed.ok) return setRefused(parsed.reason)
    setText(null)
    sceneStore.setState({ plane: { ...plane, at: parsed.mm } })
  }
  return (
    <div className="planeHeight">
      <label>
        Plane
        <select value={plane.axis} onChange={e => turnPlane(e.currentTarget.value as Axis)}>
          {PLANES.map(({ axis, name }) => (
            <option key={axis} value={axis}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        at {plane.axis}
        <input
          className="number"
          inputMode="decimal"
          size={7}
          aria-label={`Plane ${plane.axis}`}
          value={text ?? formatLength(plane.at, unit)}
          aria-invalid={refused !== ''}
          aria-describedby={refused ? 'plane-refused' : undefined}
          onFocus={() => setText(exactLength(plane.at, unit))}
          onChange={e => setText(e.target.value)}
          onBlur={take}
          onKeyDown={e => {
            if (e.key === 'Enter') take()
            if (e.key === 'Escape') setText(null)
          }}
        />
        {unit === 'mm' ? 'mm' : 'in'}
      </label>
      <button
        type="button"
        aria-pressed={planeFollows}
        title="The plane goes through each point that is placed"
        onClick={() => sceneStore.setState({ planeFollows: !planeFollows })}
      >
        Follows points
      </button>
      <button
        type="button"
        aria-pressed={onFaces}
        title="A click on a solid puts the tube on its face (Alt: the other way)"
        onClick={() => sceneStore.setState({ onFaces: !onFaces })}
      >
        On faces
      </button>
      {refused && (
        <span id="plane-refused" role="alert" className="readoutBroken">
          {refused}
        </span>
      )}
    </div>
  )
}
