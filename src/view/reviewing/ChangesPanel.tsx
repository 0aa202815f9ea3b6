import { useMemo, useState } from 'react'
import { type Change, compareDocuments } from '../../checks/compareDocuments.ts'
import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import { readDocument } from '../../document/readDocument.ts'
import type { SkidDocument } from '../../document/types.ts'
import { pickText, textOf } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useSession, useShown } from '../useStore.ts'

interface Earlier {
  readonly name: string
  readonly document: SkidDocument
}

/** What has changed since an earlier version, chosen as a file; the open document is never touched. */
export function ChangesPanel() {
  const document = useShown()
  const unit = useSession(s => s.unit)
  const [earlier, setEarlier] = useState<Earlier | null>(null)
  const [refused, setRefused] = useState('')
  const found = useMemo(() => earlier && compareDocuments(earlier.document, document), [earlier, document])
  const choose = async () => {
    const answer = await readEarlier()
    if (typeof answer === 'string') setRefused(answer)
    else if (answer) {
      setRefused('')
      setEarlier(answer)
    }
  }
  return (
    <div className="changes">
      <div className="changes-head">
        <p>
          {earlier ? `Since ${earlier.name}` : 'Choose an earlier version of this skid to see what moved.'}
        </p>
        <button type="button" onClick={choose}>
          {earlier ? 'Another version…' : 'Compare with a file…'}
        </button>
      </div>
      <p className="refusal" role="alert">
        {refused}
      </p>
      {found && (
        <>
          <p>
            {found.added.length} added, {found.removed.length} removed, {found.changed.length} changed,{' '}
            {found.same} the same
          </p>
          {found.added.length > 0 && <p>Added: {found.added.map(r => r.tag).join(', ')}</p>}
          {found.removed.length > 0 && <p>Removed: {found.removed.map(r => r.tag).join(', ')}</p>}
          {found.changed.map(run => (
            <section key={run.runId} aria-label={run.tag}>
              <button
                type="button"
                className="changed-run"
                onClick={() => {
                  sessionStore.getState().select({ kind: 'run', run: run.runId })
                  sessionStore.getState().look({ kind: 'fitSelection' })
                }}
              >
                {run.tag}
              </button>
              <table>
                <thead>
                  <tr>
                    <th scope="col">Figure</th>
                    <th scope="col" className="number">
                      Before
                    </th>
                    <th scope="col" className="number">
                      Now
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {run.changes.map(change => (
                    <tr key={change.what}>
                      <th scope="row">{change.what}</th>
                      <td className="number">{shown(change.before, change, unit)}</td>
                      <td className="number">{shown(change.after, change, unit)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </section>
          ))}
        </>
      )}
    </div>
  )
}

function shown(value: Change['before'], { unit: of }: Change, unit: LengthUnit): string {
  if (value === null) return 'none'
  if (typeof value === 'string') return value
  if (of === 'deg') return `${formatAngle(value)}°`
  return of === 'mm' ? formatLength(value, unit, { withUnit: true }) : String(value)
}

/** The chosen file's document; a sentence why it cannot be read; null when nothing was chosen. */
async function readEarlier(): Promise<Earlier | string | null> {
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
