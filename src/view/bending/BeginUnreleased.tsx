import { useState } from 'react'
import type { Progress } from './progress.ts'
import { ReleaseNote } from './ReleaseNote.tsx'
import type { Release } from './release.ts'
import { Sheet } from './Sheet.tsx'

interface Props {
  readonly release: Release
  close(): void
  begin(goneOn: Progress['goneOn']): void
}

/** A run that is not released is begun only by somebody who says so, with a name. */
export function BeginUnreleased({ release, close, begin }: Props) {
  const [by, setBy] = useState('')
  const [ticked, setTicked] = useState(false)
  const released = release.state === 'released'
  const ready = released || (ticked && by.trim() !== '')
  return (
    <Sheet close={close} title={released ? 'Checked: nothing is open' : 'This run is not released'}>
      <ReleaseNote release={release} goneOn={null} />
      {!released && (
        <>
          <label className="bending-check">
            <input
              type="checkbox"
              checked={ticked}
              onChange={event => setTicked(event.currentTarget.checked)}
            />
            I have read this and continue anyway
          </label>
          <label className="bending-name">
            name of who continues
            <input
              value={by}
              autoComplete="name"
              onChange={event => setBy(event.currentTarget.value)}
              onKeyDown={event => {
                if (event.key === 'Enter' && ready) begin({ by: by.trim(), open: release.detail })
              }}
            />
          </label>
        </>
      )}
      <div className="bending-foot">
        <button type="button" className={released ? 'back' : 'primary done'} onClick={close}>
          Not yet
        </button>
        <button
          type="button"
          className={released ? 'primary done' : 'back'}
          disabled={!ready}
          onClick={() => begin(released ? null : { by: by.trim(), open: release.detail })}
        >
          {released ? 'Start bending' : 'Start unreleased'}
        </button>
      </div>
    </Sheet>
  )
}
