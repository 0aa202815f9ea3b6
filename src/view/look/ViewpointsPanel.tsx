import { useEffect, useRef, useState } from 'react'
import type { SkidDocument, Viewpoint } from '../../document/types.ts'
import {
  addViewpoint,
  changeViewpoint,
  freshViewName,
  moveViewpoint,
  removeViewpoint,
} from '../../document/viewpointEdits.ts'
import { documentStore } from '../../store/documentStore.ts'
import { keepReviewerName, reviewerName } from '../../store/reviewer.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { TextField } from '../fields/TextField.tsx'
import type { Stage } from '../scene/stage.ts'
import { useShown } from '../useStore.ts'
import { lookNow, showViewpoint } from './viewpointLook.ts'

/** Where the reviewer's name is kept for the next decision or view. */

const today = () => new Date().toISOString().slice(0, 10)

/** The document's saved views: save what is seen now, go to one, say something about it, put them in order. */
export function ViewpointsPanel({ stage }: { readonly stage: Stage }) {
  const document = useShown()
  const [openId, setOpenId] = useState<string | null>(null)
  const list = useRef<HTMLOListElement>(null)
  const focusNext = useRef<string | null>(null)
  useEffect(() => {
    if (focusNext.current === null) return
    list.current?.querySelector<HTMLElement>(focusNext.current)?.focus()
    focusNext.current = null
  })
  const save = () => {
    let id = ''
    const refused = applyEdit('Save this view', settled => {
      const added = addViewpoint(settled, {
        ...lookNow(stage.rig, sessionStore.getState()),
        name: freshViewName(settled),
        note: '',
        by: reviewerName(),
        on: today(),
      })
      id = added.id
      return added.document
    })
    if (refused !== null) return sessionStore.getState().say(refused)
    setOpenId(id)
    focusNext.current = '[data-open] .lookView'
    sessionStore.getState().say('Saved: camera, section and what is hidden. Give it a name and a note.')
  }
  const go = (viewpoint: Viewpoint) => {
    setOpenId(viewpoint.id)
    showViewpoint(document, viewpoint)
  }
  const remove = (index: number) => {
    const viewpoint = document.viewpoints[index]
    if (!viewpoint) return
    const next = document.viewpoints[index + 1] ?? document.viewpoints[index - 1]
    documentStore.getState().apply(`Delete view ${viewpoint.name}`, d => removeViewpoint(d, viewpoint.id))
    setOpenId(null)
    focusNext.current = next ? `[data-id="${CSS.escape(next.id)}"] .lookView` : null
    sessionStore.getState().say(`${viewpoint.name} deleted. Undo brings it back.`)
  }
  const order = (viewpoint: Viewpoint, by: 1 | -1) => {
    documentStore.getState().apply(`Move view ${viewpoint.name}`, d => moveViewpoint(d, viewpoint.id, by))
    focusNext.current = `[data-id="${CSS.escape(viewpoint.id)}"] .lookView`
  }
  return (
    <div className="lookBody">
      <button
        type="button"
        className="primary"
        data-first={document.viewpoints.length === 0 || undefined}
        onClick={save}
      >
        Save this view
      </button>
      {document.viewpoints.length === 0 ? (
        <p className="quiet">
          Set camera and section to show your point, then save the view with a note. Anyone who opens the file
          sees the same.
        </p>
      ) : (
        <ol className="lookViews" ref={list}>
          {document.viewpoints.map((viewpoint, i) => (
            <li
              key={viewpoint.id}
              data-id={viewpoint.id}
              data-open={viewpoint.id === openId || undefined}
              onKeyDown={event => {
                if (!(event.target as HTMLElement).matches('.lookView')) return
                const done = () => {
                  event.preventDefault()
                  event.stopPropagation()
                }
                if (event.key === 'Delete') {
                  done()
                  remove(i)
                } else if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
                  done()
                  const by = event.key === 'ArrowDown' ? 1 : -1
                  if (event.altKey) order(viewpoint, by)
                  else list.current?.querySelectorAll<HTMLElement>('.lookView')[i + by]?.focus()
                }
              }}
            >
              <button
                type="button"
                className="lookView"
                data-first={i === 0 || undefined}
                aria-current={viewpoint.id === openId || undefined}
                aria-keyshortcuts="Delete Alt+ArrowUp Alt+ArrowDown"
                onClick={() => go(viewpoint)}
              >
                <b>{viewpoint.name || 'Without a name'}</b>
                {viewpoint.note && <span>{viewpoint.note}</span>}
              </button>
              {viewpoint.id === openId && (
                <Details
                  viewpoint={viewpoint}
                  stage={stage}
                  isFirst={i === 0}
                  isLast={i === document.viewpoints.length - 1}
                  onMove={by => order(viewpoint, by)}
                  onRemove={() => remove(i)}
                />
              )}
            </li>
          ))}
        </ol>
      )}
    </div>
  )
}

interface DetailsProps {
  readonly viewpoint: Viewpoint
  readonly stage: Stage
  readonly isFirst: boolean
  readonly isLast: boolean
  readonly onMove: (by: 1 | -1) => void
  readonly onRemove: () => void
}

function Details({ viewpoint, stage, isFirst, isLast, onMove, onRemove }: DetailsProps) {
  const { id, name, note, by, on, hidden, section } = viewpoint
  const change = (what: Partial<Viewpoint>) => (settled: SkidDocument) => changeViewpoint(settled, id, what)
  const holds = [
    section && 'a section',
    hidden.length > 0 && `${hidden.length} hidden`,
    `saved ${on}`,
  ].filter(Boolean)
  return (
    <div className="lookDetails">
      <TextField
        name="Name"
        value={name}
        label="Name a view"
        edit={text =>
          text.trim() ? change({ name: text.trim() }) : () => ({ refused: 'A name is required.' })
        }
      />
      <TextField
        name="Note"
        value={note}
        label="Note on a view"
        lines={3}
        edit={text => change({ note: text })}
      />
      <TextField
        name="By"
        value={by}
        label="Who saved a view"
        edit={text => {
          const refused = change({ by: text.trim() })
          const notKept = keepReviewerName(text)
          if (notKept) sessionStore.getState().say(`Changed. The name is not remembered: ${notKept}.`)
          return refused
        }}
      />
      <p className="quiet">{holds.join(' · ')}</p>
      <div className="lookButtons">
        <button
          type="button"
          title="Same name and note, current camera and section"
          onClick={() => {
            documentStore
              .getState()
              .apply(`Update view ${name}`, d =>
                changeViewpoint(d, id, { ...lookNow(stage.rig, sessionStore.getState()), on: today() }),
              )
            sessionStore.getState().say(`${name} now shows what you see.`)
          }}
        >
          Update from current view
        </button>
        <button
          type="button"
          aria-label="Up"
          title="Up (Alt+↑)"
          disabled={isFirst}
          onClick={() => onMove(-1)}
        >
          ↑
        </button>
        <button
          type="button"
          aria-label="Down"
          title="Down (Alt+↓)"
          disabled={isLast}
          onClick={() => onMove(1)}
        >
          ↓
        </button>
        <button type="button" title="Delete (Del)" onClick={onRemove}>
          Delete
        </button>
      </div>
    </div>
  )
}
