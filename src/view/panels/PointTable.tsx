import { Copy, CornerDownRight, Plus, Trash2 } from 'lucide-react'
import { type ClipboardEvent, type KeyboardEvent, useState } from 'react'
import { endPoint } from '../../document/lookUp.ts'
import type { RunEnd, SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type Part, sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { QuantityCell } from '../fields/QuantityCell.tsx'
import { angleKind, lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { focusCell, placeOf, useGrid } from '../fields/useGrid.ts'
import { useSession } from '../useStore.ts'
import { copyText } from './copyText.ts'
import {
  attachEnd,
  deletePoint,
  extendPastB,
  figuresOf,
  insertHalfWay,
  type Reading,
  setFigure,
} from './pointEdits.ts'
import { pastePoints, pointsToText, textToPoints } from './pointText.ts'
import { usePart } from './usePart.ts'
import { type RunInHand, useRunInHand } from './useRunInHand.ts'
import './panels.css'

const HEADS: Record<Reading, readonly [string, string, string]> = {
  absolute: ['X', 'Y', 'Z'],
  relative: ['ΔX', 'ΔY', 'ΔZ'],
  polar: ['Length', 'Bearing', 'Rise'],
}
const READINGS: readonly { reading: Reading; text: string; title: string }[] = [
  { reading: 'absolute', text: 'Place', title: 'Coordinates from the origin' },
  { reading: 'relative', text: 'From last', title: 'Differences from the point before' },
  {
    reading: 'polar',
    text: 'Direction',
    title:
      'Length, bearing (counter-clockwise from X, seen from above) and rise above level, from the point before',
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

interface Row {
  readonly id: string
  readonly at: Vec3 | null
  readonly end: RunEnd | null
}

function rowsOf({ document, run }: RunInHand): Row[] {
  return [
    { id: 'A', at: endPoint(document, run.endA), end: run.endA },
    ...run.vertices.map(v => ({ id: v.id, at: v.at, end: null })),
    { id: 'B', at: endPoint(document, run.endB), end: run.endB },
  ]
}

function Points(inHand: RunInHand) {
  const { document, run, solved } = inHand
  const unit = useSession(state => state.unit)
  const [reading, setReading] = useState<Reading>('absolute')
  const [problem, setProblem] = useState<string | null>(null)
  const part = usePart()
  const rows = rowsOf(inHand)
  const grid = useGrid(rows.length, 1)
  const length = lengthKind(unit)
  const kinds = reading === 'polar' ? [length, angleKind, angleKind] : [length, length, length]
  const passed = new Set(solved.route?.passedThrough)
  const unitWord = lengthUnitWord(unit)

  const bendName = (id: string): string => {
    const k = solved.route?.bends.findIndex(b => b.vertexId === id) ?? -1
    return k < 0 ? '' : `bend ${k + 1}`
  }
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
          <button type="button" className="small" onClick={add}>
            <Plus size={14} aria-hidden /> Point
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
            {rows.map((row, k) => {
              const before = rows[k - 1]?.at ?? null
              const name = nameOf(rows, row)
              const locked = lockOf(document, row, reading, k)
              const figures = row.at && (k === 0 ? row.at : figuresOf(reading, row.at, before ?? row.at))
              return (
                <tr
                  key={row.id}
                  className={part.marks(partOf(row))}
                  aria-selected={part.isSelected(partOf(row))}
                  {...part.pointer(partOf(row))}
                >
                  <th scope="row" {...grid.cell(k, 0)} className="point-name">
                    {row.end ? (
                      <EndSelect
                        document={document}
                        runId={run.id}
                        end={row.id as 'A' | 'B'}
                        at={row.end}
                        done={done}
                      />
                    ) : (
                      <>
                        {name}
                        <span className="of-bend">{passed.has(k) ? 'no bend' : bendName(row.id)}</span>
                      </>
                    )}
                  </th>
                  {([0, 1, 2] as const).map(c =>
                    figures && row.at && !(k === 0 && reading !== 'absolute') ? (
                      <QuantityCell
                        key={c}
                        name={`${name}, ${HEADS[reading][c]}`}
                        cell={grid.cell(k, c + 1)}
                        value={figures[c]}
                        kind={kinds[c]!}
                        label={`Move ${inSentence(name)}`}
                        locked={locked}
                        edit={to => setFigure(run.id, row.id, reading, c, to, row.at!, before ?? row.at!)}
                      />
                    ) : (
                      <td
                        key={c}
                        {...grid.cell(k, c + 1)}
                        className="number quiet"
                        aria-label={`${name}: the start`}
                      >
                        {k === 0 && c === 0 ? 'start' : '·'}
                      </td>
                    ),
                  )}
                  {reading !== 'polar' && (
                    <td
                      {...grid.cell(k, 4)}
                      className="number quiet leg"
                      aria-label={`${name}, leg before it`}
                    >
                      {before && row.at ? length.show(distance(before, row.at)) : ''}
                    </td>
                  )}
                  <td className="row-actions">
                    {k < rows.length - 1 && (
                      <button
                        type="button"
                        className="icon"
                        {...grid.cell(k, 5)}
                        title={`Insert a point after ${name} (Insert)`}
                        aria-label={`Insert a point after ${name}`}
                        onClick={event => {
                          event.stopPropagation()
                          insert(k)
                        }}
                      >
                        <CornerDownRight size={14} aria-hidden />
                      </button>
                    )}
                    {!row.end && (
                      <button
                        type="button"
                        className="icon"
                        {...grid.cell(k, 6)}
                        title={`Delete ${name} (Delete)`}
                        aria-label={`Delete ${name}`}
                        onClick={event => {
                          event.stopPropagation()
                          remove(row)
                        }}
                      >
                        <Trash2 size={14} aria-hidden />
                      </button>
                    )}
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
    </section>
  )
}

const nameOf = (rows: readonly Row[], row: Row): string =>
  row.end ? `End ${row.id}` : `Point ${rows.indexOf(row) + 1}`

const inSentence = (name: string): string => name[0]!.toLowerCase() + name.slice(1)

function lockOf(document: SkidDocument, row: Row, reading: Reading, k: number): string | undefined {
  if (row.end?.kind === 'port') {
    const { fitting } = row.end
    const name = document.fittings.find(f => f.id === fitting)?.name
    return name === undefined
      ? 'Its fitting is missing from the document.'
      : `In the port of ${name}: move the fitting, or make this a free end.`
  }
  return k === 0 && reading !== 'absolute' ? 'The first point has none before it.' : undefined
}

function EndSelect(props: {
  document: SkidDocument
  runId: string
  end: 'A' | 'B'
  at: RunEnd
  done: (refused: string | null) => void
}) {
  const { document, runId, end, at, done } = props
  const value = at.kind === 'port' ? at.fitting : ''
  const missing = value !== '' && !document.fittings.some(f => f.id === value)
  return (
    <label className="end-select">
      <b>{end}</b>
      <span className="hidden-label">End {end} is attached to</span>
      <select
        value={value}
        title={at.kind === 'port' ? 'In this port' : 'Free end'}
        onChange={event =>
          done(applyEdit(`Attach end ${end}`, attachEnd(runId, end, event.currentTarget.value)))
        }
      >
        <option value="">free end</option>
        {missing && <option value={value}>missing: {value}</option>}
        {document.fittings.map(f => (
          <option key={f.id} value={f.id}>
            {f.name}
          </option>
        ))}
      </select>
    </label>
  )
}
