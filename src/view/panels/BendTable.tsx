import { Copy } from 'lucide-react'
import type { KeyboardEvent } from 'react'
import { exactAngle, exactLength, formatAngle, type LengthUnit } from '../../document/quantity.ts'
import { writeRows } from '../../document/writeTable.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { type Part, sessionStore } from '../../store/sessionStore.ts'
import { QuantityCell } from '../fields/QuantityCell.tsx'
import { angleKind, lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { placeOf, useGrid } from '../fields/useGrid.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import { copyText } from './copyText.ts'
import { KeepEnd } from './KeepEnd.tsx'
import { neededStraights } from './neededStraight.ts'
import { rowEdit } from './rowEdits.ts'
import { Totals } from './Totals.tsx'
import { usePart } from './usePart.ts'
import { useRowWindow } from './useRowWindow.tsx'
import { type RunInHand, useRunInHand } from './useRunInHand.ts'
import './panels.css'

/** The run in hand as rows of straight, turn and angle, with what each straight needs, and the lengths to cut. */
export function BendTable() {
  const inHand = useRunInHand()
  if (!inHand)
    return (
      <section className="table-panel" aria-label="Bends">
        <p className="empty">No run yet, so no bends.</p>
      </section>
    )
  const route = inHand.solved.route
  if (!route)
    return (
      <section className="table-panel" aria-label="Bends">
        <header className="panel-head">
          <h2>Bends</h2>
        </header>
        <p role="status" className="empty">
          This route has no bends yet, because it cannot be solved:{' '}
          <SentenceText sentence={inHand.solved.problem?.sentence} />
        </p>
      </section>
    )
  return <Bends key={inHand.run.id} {...inHand} route={route} />
}

function Bends({ document, run, solved, route }: RunInHand & { route: SolvedRoute }) {
  const unit = useSession(state => state.unit)
  const part = usePart()
  const length = lengthKind(unit)
  const unitWord = lengthUnitWord(unit)
  const n = route.bends.length
  const needs = neededStraights(document, run, solved)
  const grid = useGrid(n + 1, 1)
  const shown = useRowWindow(n + 1, 'Rows')
  const bendPart = (k: number): Part => ({ kind: 'point', run: run.id, point: route.bends[k]!.vertexId })
  const straightPart = (k: number): Part => ({ kind: 'straight', run: run.id, straight: k })

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    grid.events.onKeyDown(event)
    if (event.key !== ' ' || !(event.target instanceof HTMLElement) || !event.target.hasAttribute('data-row'))
      return
    event.preventDefault()
    pickAt(event.target)
  }
  const pickAt = (target: EventTarget) => {
    const place = placeOf(target)
    if (!place) return
    const straight = place.col === 1 || place.col === 2 || place.row === n
    sessionStore.getState().select(straight ? straightPart(place.row) : bendPart(place.row))
  }

  return (
    <section className="table-panel" aria-label="Bends">
      <header className="panel-head">
        <h2>Bends</h2>
        <KeepEnd />
        <button
          type="button"
          className="small"
          onClick={() => copyText(rowsAsText(route, unit), 'Bend rows copied, tab-separated.')}
        >
          <Copy size={14} aria-hidden /> Copy
        </button>
      </header>
      {shown.bar}
      <div
        className="table-scroll"
        onCopy={event => {
          if (event.target instanceof HTMLInputElement) return
          event.preventDefault()
          event.clipboardData.setData('text/plain', rowsAsText(route, unit))
          sessionStore.getState().say('Bend rows copied, tab-separated.')
        }}
      >
        <table
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the ARIA grid pattern on a real table
          role="grid"
          className="grid-table bends"
          aria-label={`Bends of ${run.tag}`}
          onFocus={grid.events.onFocus}
          onKeyDown={onKeyDown}
          onClick={event => pickAt(event.target)}
        >
          <thead>
            <tr>
              <th scope="col">Bend</th>
              <th scope="col" className="number" title="Straight tube before the bend">
                Straight <span className="unit">{unitWord}</span>
              </th>
              <th scope="col" className="number" title="The shortest this straight may be">
                Needs
              </th>
              <th
                scope="col"
                className="number"
                title="From the previous bend’s plane to this one; clockwise is positive, looking from A to B"
              >
                Rotation <span className="unit">°</span>
              </th>
              <th scope="col" className="number">
                Angle <span className="unit">°</span>
              </th>
              <th scope="col" className="number detail" title="Vertex to tangent point">
                Tangent
              </th>
              <th scope="col" className="number detail">
                Arc
              </th>
              <th scope="col" className="number detail" title="Length the bend saves over a sharp corner">
                Gain
              </th>
            </tr>
          </thead>
          <tbody>
            {route.straights.slice(shown.from, shown.to).map((straight, i) => {
              const k = shown.from + i
              const bend = route.bends[k]
              const need = needs[k]!
              const missing = need.length === null ? 0 : need.length - straight
              const short = missing > SHOWN_MM || straight < 0
              const own = bend ? bendPart(k) : straightPart(k)
              const name = bend ? `Bend ${k + 1}` : 'Last straight'
              return (
                <tr
                  key={k}
                  className={part.marks(own) + (bend && part.isSelected(straightPart(k)) ? ' partly' : '')}
                  aria-selected={part.isSelected(own)}
                  {...part.pointer(own)}
                >
                  <th scope="row" {...grid.cell(k, 0)} className="point-name">
                    {bend ? k + 1 : 'to B'}
                  </th>
                  <QuantityCell
                    name={bend ? `Straight before bend ${k + 1}` : 'Last straight'}
                    cell={grid.cell(k, 1)}
                    className={`${short ? 'short' : ''}${part.isSelected(straightPart(k)) ? ' picked' : ''}`}
                    value={straight}
                    kind={length}
                    label={`Change straight ${k + 1}`}
                    edit={rowEdit(run.id, 'straight', k)}
                  />
                  <td {...grid.cell(k, 2)} className="number need" title={need.why}>
                    {need.length === null ? (
                      <span className="quiet">not known</span>
                    ) : (
                      <>
                        {short && <span className="shortfall">{length.lack(missing)} short</span>}
                        {length.show(need.length)}
                      </>
                    )}
                  </td>
                  {bend ? (
                    <>
                      {bend.rotation === null ? (
                        <td
                          {...grid.cell(k, 3)}
                          className="number quiet"
                          aria-label={`${name}: the first plane`}
                        >
                          first
                        </td>
                      ) : (
                        <QuantityCell
                          name={`Rotation before bend ${k + 1}`}
                          cell={grid.cell(k, 3)}
                          value={bend.rotation}
                          kind={signedAngle}
                          label={`Rotation of bend ${k + 1}`}
                          edit={rowEdit(run.id, 'rotation', k)}
                        />
                      )}
                      <QuantityCell
                        name={`Angle of bend ${k + 1}`}
                        cell={grid.cell(k, 4)}
                        value={bend.angle}
                        kind={angleKind}
                        label={`Change angle of bend ${k + 1}`}
                        edit={rowEdit(run.id, 'angle', k)}
                      />
                      {[bend.tangentLength, bend.arcLength, bend.gain].map((figure, c) => (
                        // biome-ignore lint/suspicious/noArrayIndexKey: three fixed columns
                        <td key={c} {...grid.cell(k, 5 + c)} className="number quiet detail">
                          {length.show(figure)}
                        </td>
                      ))}
                    </>
                  ) : (
                    <td colSpan={5} />
                  )}
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
      <Totals run={run} solved={solved} route={route} />
    </section>
  )
}

/** Less missing than this is the rounding of double arithmetic, not a short straight. mm. */
export const SHOWN_MM = 1e-6

const signedAngle = {
  ...angleKind,
  show: (deg: number) => (deg > 0 && formatAngle(deg) !== '180' ? `+${formatAngle(deg)}` : formatAngle(deg)),
}

/** The rows as the app's own tables hold them; in inches the header says so. */
function rowsAsText(route: SolvedRoute, unit: LengthUnit): string {
  if (unit === 'mm') return writeRows(route, '\t')
  const rows = route.straights.map((s, k) => {
    const bend = route.bends[k]
    const turn = bend?.rotation ?? null
    return [
      exactLength(s, unit),
      turn === null ? '' : exactAngle(turn),
      bend ? exactAngle(bend.angle) : '',
    ].join('\t')
  })
  return ['straight in\trotation\tangle', ...rows].join('\n')
}
