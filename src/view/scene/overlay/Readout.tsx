import { useLayoutEffect, useRef } from 'react'
import { useStore } from 'zustand'
import { SeverityMark } from '../../panels/SeverityMark.tsx'
import { type Readout as Shown, sceneStore } from '../sceneStore.ts'

const NEAREST_MARK = {
  waiting: 'notChecked',
  clear: 'ok',
  fine: 'ok',
  tooClose: 'warning',
  clash: 'error',
} as const satisfies Record<NonNullable<Shown['nearest']>['state'], unknown>

/** Figures at the cursor while a gesture lasts. */
export function Readout() {
  const readout = useStore(sceneStore, s => s.readout)
  const box = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const own = box.current
    const room = own?.parentElement
    if (!own || !room || !readout) return
    const x =
      readout.x + 22 + own.offsetWidth > room.clientWidth ? readout.x - 22 - own.offsetWidth : readout.x + 22
    const y = Math.min(readout.y + 18, room.clientHeight - own.offsetHeight - 6)
    own.style.transform = `translate(${Math.max(4, x)}px, ${Math.max(4, y)}px)`
  })
  if (!readout) return null
  return (
    <div className="sceneReadout" ref={box} data-testid="scene-readout">
      <strong>{readout.title}</strong>
      {readout.fields.length > 0 && (
        <div className="readoutFields">
          {readout.fields.map(field => (
            <span key={field.name} className={`readoutField ${field.state}`}>
              <i>{field.name}</i>
              <output>{field.value}</output>
            </span>
          ))}
        </div>
      )}
      {readout.rows.length > 0 && (
        <dl>
          {readout.rows.map(row => (
            <div key={row.name}>
              <dt>{row.name}</dt>
              <dd>{row.value}</dd>
            </div>
          ))}
        </dl>
      )}
      {readout.nearest && (
        <span className={`readoutNearest ${readout.nearest.state}`} data-testid="nearest">
          <SeverityMark of={NEAREST_MARK[readout.nearest.state]} size={14} />
          <i>Nearest</i> <output>{readout.nearest.text}</output>
        </span>
      )}
      {readout.snaps.map(name => (
        <span key={name} className="readoutSnap">
          {name}
        </span>
      ))}
      {readout.broken && <span className="readoutBroken">{readout.broken}</span>}
      <span className="readoutHint">{readout.hint}</span>
    </div>
  )
}
