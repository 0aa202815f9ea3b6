import { type KeyboardEvent, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import type { Change } from '../../checks/compareDocuments.ts'
import { compareVersions } from '../../checks/compareVersions.ts'
import type { Move } from '../../checks/largestMove.ts'
import { formatLength } from '../../document/quantity.ts'
import { readDocument } from '../../document/readDocument.ts'
import type { SkidDocument } from '../../document/types.ts'
import { lerp, sub } from '../../geometry/vec3.ts'
import { changeValue, findingGroups, namesOfBoth } from '../../outputs/compareText.ts'
import { compareStore } from '../../store/compareStore.ts'
import { compareWith, stopComparing } from '../../store/comparing.ts'
import { pickText, textOf } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'

/** What has changed since an earlier version, chosen as a file; the open document is never touched. */
export function ChangesPanel() {
  const { document, findings, complete } = useFindings()
  const unit = useSession(s => s.unit)
  const earlier = useStore(compareStore, s => s.earlier)
  const checked = useStore(compareStore, s => s.checked)
  const [refused, setRefused] = useState('')
  const found = useMemo(() => {
    const both = complete && checked.state === 'done' ? { before: checked.findings, after: findings } : null
    return earlier && compareVersions(earlier.document, document, both)
  }, [earlier, document, checked, findings, complete])
  const name = useMemo(
    () => (earlier ? namesOfBoth(earlier.document, document) : (id: string) => id),
    [earlier, document],
  )
  const choose = async () => {
    const answer = await readEarlier()
    if (typeof answer === 'string') setRefused(answer)
    else if (answer) {
      setRefused('')
      compareWith(answer.name, answer.document)
    }
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keys are those of the buttons in it
    <div className="changes" onKeyDown={goThroughRuns}>
      <div className="changes-head">
        <p>
          {earlier ? `Since ${earlier.name}` : 'Choose an earlier version of this skid to see what moved.'}
        </p>
        <button type="button" onClick={choose}>
          {earlier ? 'Another version…' : 'Compare with a file…'}
        </button>
        {earlier && (
          <button type="button" onClick={stopComparing}>
            Stop comparing
          </button>
        )}
      </div>
      <p className="refusal" role="alert">
        {refused}
      </p>
      {found && earlier && (
        <>
          <p>
            Runs: {found.runs.added.length} added, {found.runs.removed.length} removed,{' '}
            {found.runs.changed.length} changed, {found.runs.same} the same
          </p>
          {found.runs.removed.length > 0 && <p>Removed: {found.runs.removed.map(r => r.tag).join(', ')}</p>}
          {found.runs.added.map(run => (
            <p key={run.id}>
              <button type="button" className="changed-run" onClick={() => flyToRun(run.id, null)}>
                {run.tag}
              </button>{' '}
              added
            </p>
          ))}
          {found.runs.changed.map(({ runId, tag, changes }) => {
            const move = found.moves.get(runId) ?? null
            return (
              <section key={runId} aria-label={tag}>
                <button type="button" className="changed-run" onClick={() => flyToRun(runId, move)}>
                  {tag}
                </button>{' '}
                {move && (
                  <span>
                    {move.point} moved {formatLength(move.by, unit, { withUnit: true })}
                  </span>
                )}
                <ChangeTable changes={changes} />
              </section>
            )
          })}
          {found.others.parts.map(({ kind, added, removed, changed }) => (
            <section key={kind} aria-label={`${kind}s`}>
              <h3>
                {kind[0]!.toUpperCase()}
                {kind.slice(1)}s: {added.length} added, {removed.length} removed, {changed.length} changed
              </h3>
              {added.length > 0 && <p>Added: {added.map(p => p.name).join(', ')}</p>}
              {removed.length > 0 && <p>Removed: {removed.map(p => p.name).join(', ')}</p>}
              {changed.map(p => (
                <div key={p.id}>
                  <p>
                    <b>{p.name}</b>
                  </p>
                  <ChangeTable changes={p.changes} />
                </div>
              ))}
            </section>
          ))}
          {found.others.settings.length > 0 && (
            <section aria-label="Document">
              <h3>Document</h3>
              <ChangeTable changes={found.others.settings} />
            </section>
          )}
          <section aria-label="Findings of both versions" aria-live="polite">
            <h3>Findings</h3>
            {found.findings === null && <p className="quiet">{notCompared(checked, complete)}</p>}
            {found.findings !== null && findingGroups(found, name, unit).length === 0 && (
              <p className="quiet">None appeared, went away or moved by more than 0.1.</p>
            )}
            {findingGroups(found, name, unit).map(([title, list]) => (
              <div key={title}>
                <p>
                  <b>
                    {list.length} {title}
                  </b>
                </p>
                <ul>
                  {list.map(text => (
                    <li key={text}>{text}</li>
                  ))}
                </ul>
              </div>
            ))}
          </section>
        </>
      )}
    </div>
  )
}

const notCompared = (
  checked: ReturnType<typeof compareStore.getState>['checked'],
  complete: boolean,
): string => {
  if (checked.state === 'failed')
    return `Not compared: the earlier version could not be checked (${checked.reason}).`
  return checked.state === 'checking'
    ? 'The earlier version is being checked…'
    : complete
      ? ''
      : 'This version is being checked…'
}

function ChangeTable({ changes }: { readonly changes: readonly Change[] }) {
  const unit = useSession(s => s.unit)
  return (
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
        {changes.map(change => (
          <tr key={change.what}>
            <th scope="row">{change.what}</th>
            <td className="number">{changeValue(change.before, change, unit)}</td>
            <td className="number">{changeValue(change.after, change, unit)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The run's largest move seen square to it with both places in the picture; the whole run when no point moved. */
function flyToRun(run: string, move: Move | null): void {
  const { select, look, set, unit, say } = sessionStore.getState()
  select({ kind: 'run', run })
  set({ gap: null })
  if (!move) {
    look({ kind: 'fitSelection' })
    return
  }
  say(`${move.point} moved ${formatLength(move.by, unit, { withUnit: true })}`)
  look({
    kind: 'flyTo',
    at: lerp(move.from, move.to, 0.5),
    span: Math.max(250, 4 * move.by),
    square: sub(move.to, move.from),
  })
}

/** The arrow keys go from changed run to changed run, and the view with them. */
function goThroughRuns(event: KeyboardEvent<HTMLDivElement>): void {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key]
  const runs = [...event.currentTarget.querySelectorAll<HTMLElement>('.changed-run')]
  const at = runs.indexOf(event.target as HTMLElement)
  const next = step === undefined || at < 0 ? undefined : runs[at + step]
  if (!next) return
  event.preventDefault()
  next.focus()
  next.click()
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
