import { useState } from 'react'
import { readTestBend, springbackAfter, type TestBendResult, type TestPiece } from '../../bench/testBend.ts'
import { parseAngle, parseLength } from '../../document/quantity.ts'
import type { SkidDocument, Tooling } from '../../document/types.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { Said } from '../Said.tsx'
import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, signedAngle, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'
import { type RunChange, runChanges, takeOverTestBend } from './testBendEdit.ts'

const FIELDS = [
  { key: 'stock', name: 'stock', says: 'length of the test piece before bending', of: 'length' },
  { key: 'mark', name: 'mark', says: 'from the leading end', of: 'length' },
  { key: 'dial', name: 'dial', says: 'reading under load', of: 'angle' },
  { key: 'measured', name: 'measured', says: 'angle that stayed, near 90', of: 'angle' },
  { key: 'legA', name: 'leg A', says: 'leading end to vertex, on the centre line', of: 'length' },
  { key: 'legB', name: 'leg B', says: 'vertex to trailing end', of: 'length' },
] as const
type Key = (typeof FIELDS)[number]['key']

/** A radius this far from the record is more likely a slip of the tape than a worn die; a share of the CLR. */
const FAR_OFF = 0.15

/** One 90° test piece: what it says about springback, radius and reference line, and what that changes everywhere. */
export function TestBendPanel({ document, programme }: { document: SkidDocument; programme: Programme }) {
  const unit = useSession(state => state.unit)
  const [texts, setTexts] = useState<Record<Key, string>>({
    stock: '',
    mark: '',
    dial: '',
    measured: '',
    legA: '',
    legB: '',
  })
  const [withSpringback, setWithSpringback] = useState(true)
  const { bender, tooling, run } = programme
  const word = unitWord(unit)
  const read = readPiece(texts, unit)
  const known = read.piece ? attempt(read.piece, tooling) : null
  const result = typeof known === 'string' ? null : known
  const record = read.piece && withSpringback ? springbackAfter(run.tube.material, read.piece) : null
  const next = result ? takeOverTestBend(document, bender.id, tooling.id, result, record) : null
  const changes = next ? runChanges(document, next) : []
  const takeOver = () => {
    if (!result) return
    documentStore
      .getState()
      .apply('Take over a test bend', d => takeOverTestBend(d, bender.id, tooling.id, result, record))
    sessionStore
      .getState()
      .say(
        `Test bend taken over; other marks in ${changes.map(c => c.tag).join(', ') || 'no run'}. Undo takes it back.`,
      )
  }
  return (
    <section className="bending-test" aria-label="Test bend">
      <h3>
        Test bend: {bender.name}, OD {benchLength(tooling.od, unit)} {word}, {run.tube.material}
      </h3>
      <div className="testFields">
        {FIELDS.map(f => (
          <label key={f.key}>
            <span>
              {f.name} <span className="quiet">{f.of === 'length' ? word : '°'}</span>
            </span>
            <input
              className="number"
              inputMode="text"
              autoComplete="off"
              value={texts[f.key]}
              aria-invalid={read.reasons[f.key] !== undefined}
              onChange={event => setTexts({ ...texts, [f.key]: event.currentTarget.value })}
            />
            <span className={read.reasons[f.key] ? 'padReason' : 'quiet'}>
              {read.reasons[f.key] ?? f.says}
            </span>
          </label>
        ))}
      </div>
      {typeof known === 'string' && (
        <p className="bending-warn" role="alert">
          {known}
        </p>
      )}
      {!read.piece && <p className="quiet">Give all six figures of the piece.</p>}
      {result && (
        <>
          <table className="bending-table">
            <thead>
              <tr>
                <th>what it shows</th>
                <th className="number">on record</th>
                <th className="number">test bend</th>
              </tr>
            </thead>
            <tbody>
              <tr>
                <td>springback at this angle, °</td>
                <td className="number">
                  {programme.springback && read.piece
                    ? benchAngle(
                        programme.springback.offset + programme.springback.perDegree * read.piece.measured,
                      )
                    : 'not known'}
                </td>
                <td className="number strong">{signedAngle(result.springback)}</td>
              </tr>
              <tr>
                <td>effective CLR, {word} (settled)</td>
                <td className="number">{benchLength(tooling.clr, unit)}</td>
                <td className="number strong">{benchLength(result.clr, unit)}</td>
              </tr>
              <tr>
                <td>reference offset, {word} (line behind the start of bend)</td>
                <td className="number">{benchLength(tooling.referenceOffset, unit)}</td>
                <td className="number strong">{benchLength(result.referenceOffset, unit)}</td>
              </tr>
              <tr>
                <td>gain, {word}</td>
                <td className="number" />
                <td className="number">{benchLength(result.gain, unit)}</td>
              </tr>
            </tbody>
          </table>
          {Math.abs(result.clr / tooling.clr - 1) > FAR_OFF && (
            <p className="bending-warn">
              The radius is far from the one on record: check both legs and the stock before taking it over.
            </p>
          )}
          <h3>What then changes</h3>
          {changes.length === 0 ? <p>No run’s marks change.</p> : <Changes changes={changes} />}
          <div className="bending-row">
            <label className="bending-check">
              <input
                type="checkbox"
                checked={withSpringback}
                onChange={event => setWithSpringback(event.currentTarget.checked)}
              />
              also its springback, as a fixed offset for {run.tube.material}
            </label>
            <button type="button" className="primary" onClick={takeOver}>
              Take over (one undo)
            </button>
          </div>
        </>
      )}
    </section>
  )
}

function Changes({ changes }: { changes: readonly RunChange[] }) {
  const unit = useSession(state => state.unit)
  const pair = (p: readonly [number, number]) =>
    Math.abs(p[0] - p[1]) < 0.05
      ? benchLength(p[1], unit)
      : `${benchLength(p[0], unit)} → ${benchLength(p[1], unit)}`
  return (
    <table className="bending-table">
      <caption>Cut length and marks, A first, {unitWord(unit)}</caption>
      <thead>
        <tr>
          <th>run</th>
          <th>cut length</th>
          <th>marks</th>
        </tr>
      </thead>
      <tbody>
        {changes.map(c => (
          <tr key={c.runId}>
            <td>{c.tag}</td>
            {c.lost === null ? (
              <>
                <td>{pair(c.cutLength)}</td>
                <td>{c.marks.map((m, i) => `${i + 1}: ${pair(m.mark)}`).join(' · ')}</td>
              </>
            ) : (
              <td colSpan={2}>
                ✕ can then not be bent: <Said sentence={c.lost} />
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function readPiece(
  texts: Record<Key, string>,
  unit: Parameters<typeof parseLength>[1],
): { piece: TestPiece | null; reasons: Partial<Record<Key, string>> } {
  const reasons: Partial<Record<Key, string>> = {}
  const got: Partial<Record<Key, number>> = {}
  for (const { key, of } of FIELDS) {
    if (texts[key].trim() === '') continue
    if (of === 'length') {
      const r = parseLength(texts[key], unit)
      if (r.ok) got[key] = r.mm
      else reasons[key] = r.reason
    } else {
      const r = parseAngle(texts[key])
      if (r.ok) got[key] = r.deg
      else reasons[key] = r.reason
    }
  }
  const { stock, mark, dial, measured, legA, legB } = got
  const piece =
    stock !== undefined &&
    mark !== undefined &&
    dial !== undefined &&
    measured !== undefined &&
    legA !== undefined &&
    legB !== undefined
      ? { stock, mark, dial, measured, legA, legB }
      : null
  return { piece, reasons }
}

/** What the piece says, or why it says nothing. */
function attempt(piece: TestPiece, tooling: Tooling): TestBendResult | string {
  try {
    return readTestBend(piece, tooling)
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}
