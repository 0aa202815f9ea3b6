import { Copy, Eye, EyeOff, Plus, Trash2 } from 'lucide-react'
import { type KeyboardEvent, useRef, useState } from 'react'
import { removeRun } from '../../document/edits.ts'
import { endPoint } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { solvedRuns } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type Part, runIdOf, sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { duplicateRun } from './addNewRun.ts'
import { NewRun } from './NewRun.tsx'
import { SeverityMark } from './SeverityMark.tsx'
import { countsInWords, worstOf } from './severity.ts'
import { tubeName } from './tubeName.ts'
import { usePart } from './usePart.ts'
import './panels.css'

/** All runs: tag, service, size, length and state; the way to show, hide, add, copy and delete them. */
export function RunList() {
  const unit = useSession(state => state.unit)
  const hidden = useSession(state => state.hiddenRuns)
  const inHand = useSession(state => state.runInHand)
  const [filter, setFilter] = useState('')
  const [adding, setAdding] = useState(false)
  const list = useRef<HTMLUListElement>(null)
  const part = usePart()
  const { document, findings: found, complete } = useFindings()
  const solved = solvedRuns(document)
  const wanted = filter.trim().toLowerCase()
  const shown = document.runs.filter(r =>
    `${r.tag} ${r.service} ${tubeName(r.tube, unit)}`.toLowerCase().includes(wanted),
  )
  const current = shown.some(r => r.id === inHand) ? inHand : shown[0]?.id
  const length = lengthKind(unit)

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const items = [...(list.current?.querySelectorAll<HTMLElement>('button.run-main') ?? [])]
    const now = items.indexOf(event.target as HTMLElement)
    if (now < 0) return
    const to = { ArrowDown: now + 1, ArrowUp: now - 1, Home: 0, End: items.length - 1 }[event.key]
    const run = shown[now]
    if (event.key === 'Delete' && run) {
      event.preventDefault()
      event.stopPropagation()
      remove(run)
      queueMicrotask(() =>
        list.current
          ?.querySelectorAll<HTMLElement>('button.run-main')
          [Math.min(now, items.length - 2)]?.focus(),
      )
    } else if (to !== undefined && items[to]) {
      event.preventDefault()
      items[to].focus()
      items[to].click()
    }
  }

  return (
    <div className="run-panel">
      <header className="panel-head">
        <h2>Runs</h2>
        <span className="quiet">{document.runs.length}</span>
        <button type="button" className="small" aria-expanded={adding} onClick={() => setAdding(!adding)}>
          <Plus size={14} aria-hidden /> Run
        </button>
      </header>
      {adding && <NewRun document={document} onDone={() => setAdding(false)} />}
      {document.runs.length > 5 && (
        <input
          type="search"
          className="run-filter"
          aria-label="Show only runs with this in tag, service or size"
          placeholder="Filter"
          value={filter}
          onChange={event => setFilter(event.currentTarget.value)}
        />
      )}
      {document.runs.length === 0 && <p className="empty">No runs yet. Add one between two ports.</p>}
      {document.runs.length > 0 && shown.length === 0 && (
        <p className="empty">No run has “{filter}” in it.</p>
      )}
      <ul ref={list} className="run-list" onKeyDown={onKeyDown}>
        {shown.map(run => {
          const own: Part = { kind: 'run', run: run.id }
          const about = found.filter(f => f.where.run === run.id || f.where.other === run.id)
          const route = solved.find(s => s.runId === run.id)?.route ?? null
          const isHidden = hidden.has(run.id)
          const worst = route === null ? 'error' : (worstOf(about) ?? (complete ? 'ok' : 'notChecked'))
          const state =
            countsInWords(about) || (route ? (complete ? 'no findings' : 'checking…') : 'cannot be solved')
          return (
            <li
              key={run.id}
              className={`run-row${part.marks(own)}${run.id === current ? ' current' : ''}${isHidden ? ' unseen' : ''}`}
              {...part.pointer(own)}
            >
              <button
                type="button"
                className="run-main"
                tabIndex={run.id === current ? 0 : -1}
                aria-current={run.id === current}
                onClick={() => sessionStore.getState().select(own)}
                onDoubleClick={() => sessionStore.getState().look({ kind: 'fitSelection' })}
              >
                <span className="run-tag">{run.tag}</span>
                <span className="run-length">
                  {route ? `${length.show(route.developedLength)} ${lengthUnitWord(unit)}` : 'not solved'}
                </span>
                <span className="run-about">
                  {[tubeName(run.tube, unit), run.service].filter(Boolean).join(' · ')}
                </span>
                <span className={`run-state ${worst}`} title={state}>
                  {state.split(',')[0]} <SeverityMark of={worst} size={13} />
                </span>
              </button>
              <span className="run-actions">
                <button
                  type="button"
                  className="icon"
                  aria-pressed={isHidden}
                  aria-label={`Hide ${run.tag}`}
                  title={isHidden ? 'Show in 3D' : 'Hide in 3D'}
                  onClick={() => toggleHidden(run.id)}
                >
                  {isHidden ? <EyeOff size={14} aria-hidden /> : <Eye size={14} aria-hidden />}
                </button>
                <button
                  type="button"
                  className="icon"
                  aria-label={`Duplicate ${run.tag}`}
                  title="Duplicate"
                  onClick={() => duplicate(run)}
                >
                  <Copy size={14} aria-hidden />
                </button>
                <button
                  type="button"
                  className="icon"
                  aria-label={`Delete ${run.tag}`}
                  title="Delete (Delete)"
                  onClick={() => remove(run)}
                >
                  <Trash2 size={14} aria-hidden />
                </button>
              </span>
            </li>
          )
        })}
      </ul>
    </div>
  )
}

function toggleHidden(id: string) {
  const session = sessionStore.getState()
  const next = new Set(session.hiddenRuns)
  if (!next.delete(id)) next.add(id)
  session.set({ hiddenRuns: next })
}

function remove(run: Run) {
  applyEdit(`Delete ${run.tag}`, document => removeRun(document, run.id))
  const session = sessionStore.getState()
  if (runIdOf(session.selection) === run.id) session.select(null)
  if (session.runInHand === run.id) session.set({ runInHand: null })
  session.say(`${run.tag} deleted. Undo brings it back.`)
}

function duplicate(run: Run) {
  const document: SkidDocument = documentStore.getState().settled
  const a = endPoint(document, run.endA)
  const b = endPoint(document, run.endB)
  if (!a || !b) {
    sessionStore.getState().say(`${run.tag} cannot be copied: the fitting at one of its ends is missing.`)
    return
  }
  const made = duplicateRun(document, run, [a, b])
  applyEdit(`Duplicate ${run.tag}`, () => made.document)
  sessionStore.getState().select({ kind: 'run', run: made.run.id })
}
