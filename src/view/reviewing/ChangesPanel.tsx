import { type KeyboardEvent, useRef, useState } from 'react'
import { flushSync } from 'react-dom'
import { useStore } from 'zustand'
import { readDocument } from '../../document/readDocument.ts'
import type { SkidDocument } from '../../document/types.ts'
import { compareStore } from '../../store/compareStore.ts'
import { compareWith } from '../../store/comparing.ts'
import { pickText, textOf } from '../../store/files.ts'
import { useSession } from '../useStore.ts'
import { ChangeMark } from './ChangeMark.tsx'
import type { ChangeRow } from './changeRows.ts'
import { showChange } from './showChange.ts'
import { type Changes, useChanges } from './useChanges.ts'
import './changes.css'

/** What has changed since an earlier version, chosen as a file; the open document is never touched. */
export function ChangesPanel() {
  const changes = useChanges()
  const ended = useStore(compareStore, s => s.ended)
  const [refused, setRefused] = useState('')
  const choose = async () => {
    const answer = await readEarlier()
    if (typeof answer === 'string') setRefused(answer)
    else if (answer) {
      setRefused('')
      compareWith(answer.name, answer.document)
    }
  }
  return (
    <div className="changes">
      <div className="changes-head">
        {changes ? (
          <p className="changes-since" title={changes.earlier.name}>
            Since <b>{changes.earlier.name}</b>
          </p>
        ) : (
          <p className="changes-none">
            {ended || 'Choose an earlier version of this skid to see what changed. This one stays as it is.'}
          </p>
        )}
        <button type="button" onClick={choose}>
          {changes ? 'Another version…' : 'Compare with a file…'}
        </button>
        <p className="refusal" role="alert">
          {refused}
        </p>
      </div>
      {changes && <ChangeList changes={changes} />}
    </div>
  )
}

/** Rows in the list's window that Page Up and Page Down pass. */
const PAGE = 8

/** One tab stop; the arrow keys, Page Up and Down, Home and End go from change to change, and the view with them. */
function ChangeList({ changes }: { readonly changes: Changes }) {
  const list = useRef<HTMLDivElement>(null)
  const unit = useSession(s => s.unit)
  const { groups, chosen, earlier, document, pending } = changes
  const rows = groups.flatMap(g => g.rows)
  const at = chosen ? rows.indexOf(chosen) : -1
  const choose = (row: ChangeRow) => {
    flushSync(() => compareStore.setState({ chosen: row.id }))
    list.current?.querySelector<HTMLElement>('[aria-selected="true"]')?.focus()
    showChange(row, earlier.document, document, unit)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const to = {
      ArrowDown: at + 1,
      ArrowUp: at - 1,
      PageDown: at + PAGE,
      PageUp: at - PAGE,
      Home: 0,
      End: rows.length - 1,
      Enter: at,
    }[event.key]
    const row = to === undefined ? undefined : rows[Math.min(rows.length - 1, Math.max(0, to))]
    if (!row) return
    event.preventDefault()
    choose(row)
  }
  return (
    <>
      <div
        className="change-rows"
        role="listbox"
        aria-label={`Changes since ${earlier.name}`}
        ref={list}
        tabIndex={-1}
        onKeyDown={onKeyDown}
      >
        {groups.map(group => (
          // biome-ignore lint/a11y/useSemanticElements: fieldset would not be a listbox group
          <div key={group.title} role="group" aria-label={group.title}>
            <p className="group-title" aria-hidden="true">
              <span>{group.title}</span>
            </p>
            {group.rows.map(row => (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the list handles the keys for all its options
              <div
                key={row.id}
                role="option"
                className={row.figure.includes('→') ? 'change-row two-figures' : 'change-row'}
                aria-selected={row === chosen}
                tabIndex={row === (chosen ?? rows[0]) ? 0 : -1}
                data-change={row.id}
                onClick={() => choose(row)}
              >
                <ChangeMark word={row.word} />
                <span className="review-what">
                  <b>{row.title}</b>
                  <span className="quiet">{row.more}</span>
                </span>
                <span className="change-figure number">{row.figure}</span>
              </div>
            ))}
          </div>
        ))}
        {rows.length === 0 && <p className="review-empty">The documents are the same.</p>}
      </div>
      <p className="changes-foot" aria-live="polite">
        {pending || foundWords(changes)}
      </p>
    </>
  )
}

/** Said under the list once both versions are checked. */
function foundWords({ found }: Changes): string {
  const { findings } = found
  if (!findings) return ''
  const counts: readonly (readonly [number, string])[] = [
    [findings.appeared.length, 'appeared'],
    [findings.gone.length, 'went away'],
    [findings.worse.length, 'got worse'],
    [findings.better.length, 'got better'],
    [findings.changed.length, 'changed otherwise'],
  ]
  const moved = counts.filter(([n]) => n > 0).map(([n, what]) => `${n} ${what}`)
  return `Both versions are checked. Findings: ${moved.join(', ') || 'none appeared, went away or moved by more than 0.1'}.`
}

/** The chosen file's document; a sentence why it cannot be read; null when nothing was chosen. */
async function readEarlier(): Promise<{ name: string; document: SkidDocument } | string | null> {
  try {
    const file = await pickText('Skid document', ['.json'])
    const text = await textOf(file)
    if (typeof text !== 'string') return 'The file could not be read.'
    const read = readDocument(text)
    if (read.ok) return { name: file.name, document: read.document }
    return `${file.name}: ${read.errors.map(e => e.message).join(' ')}`
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null
    return error instanceof Error ? error.message : String(error)
  }
}
