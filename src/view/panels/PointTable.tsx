import { Copy, Plus } from 'lucide-react'
import { type ClipboardEvent, type KeyboardEvent, useState } from 'react'
import { endPoint } from '../../document/lookUp.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type Part, sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { angleKind, lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { focusCell, placeOf, useGrid } from '../fields/useGrid.ts'
import { useSession } from '../useStore.ts'
import { copyText } from './copyText.ts'
import { HEADS, inSentence, nameOf, PointRow, type Row } from './PointRow.tsx'
import { deletePoint, extendPastB, insertHalfWay, type Reading } from './pointEdits.ts'
import { pastePoints, pointsToText, textToPoints } from './pointText.ts'
import { useRowWindow } from './useRowWindow.tsx'
import { type RunInHand, useRunInHand } from './useRunInHand.ts'
import './panels.css'

const READINGS: readonly { reading: Reading; text: string; title: string }[] = [
  { reading: 'absolute', text: 'Absolute', title: 'Coordinates from the origin' },
  { reading: 'relative', text: 'From last point', title: 'Differences from the previous point' },
  {
    reading: 'polar',
    text: 'By direction',
    title:
      'Length, bearing (counter-clockwise from X, seen from above) and rise above level, from the previous point',
  },
]

/** The run in hand as a table of points: end A, vertices, end B; every figure an editor. */
export function PointTable() {
  const inHand = useRunInHand()
  if (!inHand)
    return (
      <section className="table-panel" aria-label="Points">
        <p className="empty">No run yet. Add one in the list of runs, and its points are listed here.</p>
      </section>
    )
  return <Points key={inHand.run.id} {...inHand} />
}

function rowsOf({ document, run }: RunInHand): Row[] {
  return [
    { id: 'A', at: endPoint(document, run.endA), end: run.endA },
    ...run.vertices.map(v => ({ id: v.id, at: v.at, end: null })),
    { id: 'B', at: endPoint(document, run.endB), end: run.endB },
  ]
}

function Points(inHand: RunInHand) {
  const { run } = inHand
  const unit = useSession(state => state.unit)
  const [reading, setReading] = useState<Reading>('absolute')
  const [problem, setProblem] = useState<string | null>(null)
  const rows = rowsOf(inHand)
  const grid = useGrid(rows.length, 1)
  const shown = useRowWindow(rows.length, 'Points')
  const length = lengthKind(unit)
  const kinds = reading === 'polar' ? [length, angleKind, angleKind] : [length, length, length]
  const unitWord = lengthUnitWord(unit)

  const done = (refused: string | null) => setProblem(refused)
  const partOf = (row: Row): Part => ({ kind: 'point', run: run.id, point: row.id })
  const remove = (row: Row) =>
    done(applyEdit(`Delete ${inSentence(nameOf(rows, row))}`, deletePoint(run.id, row.id)))
  const insert = (leg: number) => {
    const made = insertHalfWay(documentStore.getState().settled, run, leg)
    if (!made) return done('This leg has no place: its fitting is missing.')
    done(applyEdit('Insert a point', () => made.document))
    sessionStore.getState().select({ kind: 'point', run: run.id, point: made.vertexId })
  }
  const add = () => {
    const made = extendPastB(documentStore.getState().settled, run)
    if (!made) return insert(rows.length - 2)
    done(applyEdit('Add a point', () => made.document))
    sessionStore.getState().select({ kind: 'point', run: run.id, point: 'B' })
  }

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    grid.events.onKeyDown(event)
    const place =
      event.target instanceof HTMLElement && event.target.hasAttribute('data-row') && placeOf(event.target)
    const row = place && rows[place.row]
    if (!row || event.target instanceof HTMLButtonElement) return
    const table = event.currentTarget
    const refocus = (at: number) => queueMicrotask(() => focusCell(table, at, place.col))
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault()
      event.stopPropagation()
      remove(row)
      refocus(place.row)
    } else if (event.key === 'Insert' && place.row < rows.length - 1) {
      event.preventDefault()
      insert(place.row)
      refocus(place.row + 1)
    } else if (event.key === ' ') {
      event.preventDefault()
      sessionStore.getState().select(partOf(row))
    }
  }
  const pointsText = () =>
    pointsToText(
      rows.flatMap(r => (r.at ? [r.at] : [])),
      unit,
    )
  const onCopy = (event: ClipboardEvent<HTMLElement>) => {
    if (event.target instanceof HTMLInputElement) return
    event.preventDefault()
    event.clipboardData.setData('text/plain', pointsText())
    sessionStore.getState().say(`${rows.length} points copied, tab-separated.`)
  }
  const onPaste = (event: ClipboardEvent<HTMLElement>) => {
    if (event.target instanceof HTMLInputElement) return
    event.preventDefault()
    const read = textToPoints(event.clipboardData.getData('text/plain'), unit)
    if (!read.ok) return done(`Not pasted: ${read.reason}.`)
    const row = placeOf(event.target)?.row ?? 0
    const refused = applyEdit('Paste points', d => pastePoints(d, run, row, read.points))
    done(refused && `Not pasted: ${refused}`)
    if (!refused) sessionStore.getState().say(`${read.points.length} points pasted.`)
  }

  return (
    <section className="table-panel" aria-label="Points">
      <header className="panel-head">
        <h2>Points</h2>
        <fieldset className="segments">
          <legend className="hidden-label">Show points as</legend>
          {READINGS.map(({ reading: r, text, title }) => (
            <button
              key={r}
              type="button"
              title={title}
              aria-pressed={r === reading}
              onClick={() => setReading(r)}
            >
              {text}
            </button>
          ))}
        </fieldset>
        <span className="head-actions">
          <button
            type="button"
            className="icon"
            title="Copy the points, tab-separated (Ctrl+C in the table; Ctrl+V there pastes from the row in focus on)"
            aria-label="Copy the points"
            onClick={() => copyText(pointsText(), `${rows.length} points copied, tab-separated.`)}
          >
            <Copy size={14} aria-hidden />
          </button>
          <button type="button" className="small" title="Add a point" onClick={add}>
            <Plus size={14} aria-hidden /> <span className="word">Point</span>
          </button>
        </span>
      </header>
      {problem && (
        <p role="alert" className="panel-problem">
          {problem}
          <button type="button" className="bare" onClick={() => setProblem(null)}>
            Dismiss
          </button>
        </p>
      )}
      {shown.bar}
      <div className="table-scroll" onCopy={onCopy} onPaste={onPaste}>
        <table
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the ARIA grid pattern on a real table
          role="grid"
          className="grid-table points"
          aria-label={`Points of ${run.tag}`}
          onFocus={grid.events.onFocus}
          onKeyDown={onKeyDown}
          onClick={event => {
            const row = rows[placeOf(event.target)?.row ?? -1]
            if (row) sessionStore.getState().select(partOf(row))
          }}
        >
          <thead>
            <tr>
              <th scope="col">Point</th>
              {HEADS[reading].map((head, i) => (
                <th key={head} scope="col" className="number">
                  {head} <span className="unit">{kinds[i] === angleKind ? '°' : unitWord}</span>
                </th>
              ))}
              {reading !== 'polar' && (
                <th scope="col" className="number leg">
                  Leg <span className="unit">{unitWord}</span>
                </th>
              )}
              <th scope="col">
                <span className="hidden-label">Insert and delete</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.slice(shown.from, shown.to).map((row, i) => (
              <PointRow
                key={row.id}
                inHand={inHand}
                rows={rows}
                row={row}
                k={shown.from + i}
                reading={reading}
                kinds={kinds}
                grid={grid}
                done={done}
                insert={insert}
                remove={remove}
              />
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}
