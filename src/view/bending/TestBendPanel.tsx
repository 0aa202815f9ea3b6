import { useState } from 'react'
import {
  askAboutTestBend,
  type LegsTo,
  legsToCentre,
  readTestBend,
  springbackAfter,
  type TestPiece,
  testPieceProblem,
} from '../../bender/testBend.ts'
import { capital } from '../../document/capital.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { parseAngle, parseLength } from '../../document/quantity.ts'
import { inMm } from '../../document/sentence.ts'
import type { Bender, Run, SkidDocument, Tooling } from '../../document/types.ts'
import { springbackAt } from '../../solve/making.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, signedAngle, unitWord } from './figures.ts'
import { LegsPicture } from './LegsPicture.tsx'
import { type RunChange, runChanges, takeOverTestBend } from './testBendEdit.ts'

const FIELDS = [
  { key: 'stock', name: 'stock', says: 'length of the piece before bending', of: 'length' },
  { key: 'mark', name: 'mark', says: 'pencil mark, from the leading end', of: 'length' },
  { key: 'dial', name: 'dial', says: 'reading under load', of: 'angle' },
  { key: 'measured', name: 'measured', says: 'angle after springback, near 90', of: 'angle' },
  { key: 'legA', name: 'leg A', says: 'from the leading end', of: 'length' },
  { key: 'legB', name: 'leg B', says: 'from the trailing end', of: 'length' },
] as const
type Key = (typeof FIELDS)[number]['key']

interface Props {
  readonly document: SkidDocument
  readonly run: Run
  readonly bender: Bender
  /** Measured or not: a test bend is what measures its line. */
  readonly tooling: Tooling
}

/** One 90° test piece: what it says about springback, radius and reference line, and what that changes everywhere. */
export function TestBendPanel({ document, run, bender, tooling }: Props) {
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
  const [legsTo, setLegsTo] = useState<LegsTo>('back')
  const [agreed, setAgreed] = useState('')
  const word = unitWord(unit)
  const read = readPiece(texts, unit, legsTo, tooling.od)
  const problem = read.piece && testPieceProblem(read.piece, tooling)
  const result = read.piece && !problem ? readTestBend(read.piece, tooling) : null
  const springback = springbackOf(bender, run)
  const unmeasured = tooling.notMeasured ?? []
  const record = read.piece && withSpringback ? springbackAfter(run.tube.material, read.piece) : null
  const next = result ? takeOverTestBend(document, bender.id, tooling.id, result, record) : null
  const changes = next ? runChanges(document, next) : []
  const doubts = result && read.piece ? askAboutTestBend(read.piece, result, tooling, springback) : []
  const lost = changes.filter(c => c.marksOff.length > 0)
  const asked = JSON.stringify([doubts, lost.map(c => c.runId)])
  const isAsked = doubts.length + lost.length > 0
  const takeOver = () => {
    if (!result) return
    documentStore
      .getState()
      .apply('Apply a test bend', d => takeOverTestBend(d, bender.id, tooling.id, result, record))
    sessionStore
      .getState()
      .say(
        `Test bend applied; other marks in ${changes.map(c => c.tag).join(', ') || 'no run'}. Undo takes it back.`,
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
      <div className="legsChoice">
        <fieldset>
          <legend>Both legs are taped</legend>
          {(
            [
              ['back', 'along the outside, to the back of the bend'],
              ['centre', 'to where the centre lines cross'],
            ] as const
          ).map(([value, text]) => (
            <label key={value} className="bending-check">
              <input type="radio" name="legs" checked={legsTo === value} onChange={() => setLegsTo(value)} />
              {text}
            </label>
          ))}
        </fieldset>
        <LegsPicture to={legsTo} />
      </div>
      {problem && (
        <p className="bending-warn" role="alert">
          {capital(problem.place)}: found <SentenceText sentence={problem.found} />, wanted{' '}
          <SentenceText sentence={problem.wanted} />.
        </p>
      )}
      {!read.piece && <p className="quiet">Enter all six figures of the piece.</p>}
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
                  {springback && read.piece
                    ? benchAngle(springbackAt(springback, read.piece.measured))
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
                <td className="number">
                  {unmeasured.includes('referenceOffset')
                    ? 'not measured'
                    : benchLength(tooling.referenceOffset, unit)}
                </td>
                <td className="number strong">{benchLength(result.referenceOffset, unit)}</td>
              </tr>
              <tr>
                <td>gain, {word}</td>
                <td className="number" />
                <td className="number">{benchLength(result.gain, unit)}</td>
              </tr>
            </tbody>
          </table>
          <p className="quiet">
            One piece cannot tell a larger radius from more stretch: both lengthen the legs. The radius here
            goes with{' '}
            {tooling.stretchAt90 === undefined
              ? 'no stretch'
              : `the stretch of ${benchLength(tooling.stretchAt90, unit)} ${word} at 90° on record`}
            . A radius gauge laid in the bend, or a second piece bent to another angle, tells them apart.
          </p>
          {isAsked && (
            <div className="bending-warn" role="alert">
              <ul>
                {doubts.map(d => (
                  <li key={inMm(d)}>
                    <SentenceText sentence={d} />
                  </li>
                ))}
                {lost.map(c => (
                  <li key={c.runId}>
                    {c.tag}: {c.marksOff.length === 1 ? 'a mark' : 'marks'} would not lie on the tube (bend{' '}
                    {c.marksOff.map(k => k + 1).join(', ')})
                  </li>
                ))}
              </ul>
              <label className="bending-check">
                <input
                  type="checkbox"
                  checked={agreed === asked}
                  onChange={event => setAgreed(event.currentTarget.checked ? asked : '')}
                />
                The figures are right: use them anyway
              </label>
            </div>
          )}
          <h3>What this changes</h3>
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
            <button
              type="button"
              className="primary"
              disabled={isAsked && agreed !== asked}
              onClick={takeOver}
            >
              Apply test bend
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
                ✕ cannot be bent then: <SentenceText sentence={c.lost} />
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
  legsTo: LegsTo,
  od: number,
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
  return { piece: piece && legsTo === 'back' ? legsToCentre(piece, od) : piece, reasons }
}
