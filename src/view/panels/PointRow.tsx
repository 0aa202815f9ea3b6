import { CornerDownRight, Trash2 } from 'lucide-react'
import type { RunEnd, SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import type { Part } from '../../store/sessionStore.ts'
import { QuantityCell } from '../fields/QuantityCell.tsx'
import { lengthKind, type QuantityKind } from '../fields/quantityKind.ts'
import type { Grid } from '../fields/useGrid.ts'
import { useSession } from '../useStore.ts'
import { EndSelect } from './EndSelect.tsx'
import { figuresOf, type Reading, setFigure } from './pointEdits.ts'
import { usePart } from './usePart.ts'
import type { RunInHand } from './useRunInHand.ts'

/** What the three columns are called. */
export const HEADS: Record<Reading, readonly [string, string, string]> = {
  absolute: ['X', 'Y', 'Z'],
  relative: ['ΔX', 'ΔY', 'ΔZ'],
  polar: ['Length', 'Bearing', 'Rise'],
}

export interface Row {
  readonly id: string
  readonly at: Vec3 | null
  readonly end: RunEnd | null
}

interface Props {
  readonly inHand: RunInHand
  readonly rows: readonly Row[]
  readonly row: Row
  /** Its place: 0 is end A. */
  readonly k: number
  readonly reading: Reading
  readonly kinds: readonly QuantityKind[]
  readonly grid: Grid
  readonly done: (refused: string | null) => void
  /** A new point on the leg after row `k`. */
  readonly insert: (k: number) => void
  readonly remove: (row: Row) => void
}

/** One point: its name or the port it is in, three figures, the leg before it, insert and delete. */
export function PointRow({ inHand, rows, row, k, reading, kinds, grid, done, insert, remove }: Props) {
  const { document, run, solved } = inHand
  const part = usePart()
  const length = lengthKind(useSession(state => state.unit))
  const own: Part = { kind: 'point', run: run.id, point: row.id }
  const bend = solved.route?.bends.findIndex(b => b.vertexId === row.id) ?? -1
  const bendName = solved.route?.passedThrough.includes(k) ? 'no bend' : bend < 0 ? '' : `bend ${bend + 1}`
  const before = rows[k - 1]?.at ?? null
  const name = nameOf(rows, row)
  const locked = lockOf(document, row, reading, k)
  const figures = row.at && (k === 0 ? row.at : figuresOf(reading, row.at, before ?? row.at))
  return (
    <tr className={part.marks(own)} aria-selected={part.isSelected(own)} {...part.pointer(own)}>
      <th scope="row" {...grid.cell(k, 0)} className="point-name">
        {row.end ? (
          <EndSelect document={document} runId={run.id} end={row.id as 'A' | 'B'} at={row.end} done={done} />
        ) : (
          <>
            {name}
            <span className="of-bend">{bendName}</span>
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
          <td key={c} {...grid.cell(k, c + 1)} className="number quiet" aria-label={`${name}: the start`}>
            {k === 0 && c === 0 ? 'start' : '·'}
          </td>
        ),
      )}
      {reading !== 'polar' && (
        <td {...grid.cell(k, 4)} className="number quiet leg">
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
}

/** As checks and history call it. */
export const nameOf = (rows: readonly Row[], row: Row): string =>
  row.end ? `End ${row.id}` : `Point ${rows.indexOf(row) + 1}`

export const inSentence = (name: string): string => name[0]!.toLowerCase() + name.slice(1)

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
