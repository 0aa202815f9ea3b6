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
  const sizes = useRef({ width: 0, height: 0, roomWidth: Infinity, roomHeight: Infinity })
  const isShown = readout !== null
  const place = () => {
    if (!box.current || !readout) return
    const { width, height, roomWidth, roomHeight } = sizes.current
    const x = readout.x + 22 + width > roomWidth ? readout.x - 22 - width : readout.x + 22
    const y = Math.min(readout.y + 18, roomHeight - height - 6)
    box.current.style.transform = `translate(${Math.max(4, x)}px, ${Math.max(4, y)}px)`
  }
  const placeNow = useRef(place)
  placeNow.current = place
  // Told of sizes, not asking for them at every move: asking has the browser lay out the whole page at once.
  useLayoutEffect(() => {
    const own = box.current
    const room = own?.parentElement
    if (!isShown || !own || !room) return
    const measure = () => {
      sizes.current = {
        width: own.offsetWidth,
        height: own.offsetHeight,
        roomWidth: room.clientWidth,
        roomHeight: room.clientHeight,
      }
      placeNow.current()
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(own)
    observer.observe(room)
    return () => observer.disconnect()
  }, [isShown])
  useLayoutEffect(place)
  if (!readout) return null
  return (
    <div className="sceneReadout" ref={box} data-testid="scene-readout">
      <strong>{readout.title}</strong>
      {readout.fields.length > 0 && (
        <div className="readoutFields">
          {readout.fields.map(field => (
            <span key={field.name} className={`readoutField ${field.state}`}>
              <i>{field.name}</i>
              <output aria-live="off">{field.value}</output>
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
          <i>Nearest</i> <output aria-live="off">{readout.nearest.text}</output>
        </span>
      )}
      {readout.snaps.map(name => (
        <span key={name} className="readoutSnap">
          {name}
        </span>
      ))}
      {readout.broken && (
        <span className={readout.isHalfLaid ? 'readoutSoFar' : 'readoutBroken'}>
          {readout.isHalfLaid && 'Still open: '}
          {readout.broken}
        </span>
      )}
      <span className="readoutHint">{readout.hint}</span>
    </div>
  )
}
