import type { ChangeOutcome } from '../../checks/changeOutcome.ts'
import type { BulkRefusal } from '../../document/bulkEdits.ts'
import { ruleWords } from '../../findings/rules.ts'
import { SeverityMark } from './SeverityMark.tsx'

/** How many rules are told; the rest is counted. */
const MOST = 8

/** What a change of many runs does before it is done: how many change, and which findings come and go. */
export function ChangeTold({ told, of }: { told: ChangeOutcome | BulkRefusal | null; of: number }) {
  return (
    <div className="change-told" aria-live="polite">
      {told === null && <p className="quiet">Nothing is ticked yet.</p>}
      {told && 'refused' in told && (
        <ul className="change-refused">
          {told.refused.map(fault => (
            <li key={fault}>{fault}</li>
          ))}
        </ul>
      )}
      {told && 'changed' in told && <Outcome told={told} of={of} />}
    </div>
  )
}

function Outcome({ told, of }: { told: ChangeOutcome; of: number }) {
  const { changed, rules } = told
  if (changed === 0) return <p>All {of} have that already: no change.</p>
  return (
    <>
      <p>
        <b>
          {changed} of {of}
        </b>{' '}
        would change{changed < of && ', the others have that already'}.{' '}
        {rules.length === 0 && 'No change in the number of findings.'}
      </p>
      {rules.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">Findings</th>
              <th scope="col">Before</th>
              <th scope="col">After</th>
            </tr>
          </thead>
          <tbody>
            {rules.slice(0, MOST).map(r => (
              <tr key={r.rule}>
                <th scope="row">
                  <SeverityMark of={r.severity} size={14} /> {ruleWords(r.rule)}
                </th>
                <td>{r.before}</td>
                <td>
                  {r.after} (
                  {r.after > r.before ? `${r.after - r.before} more` : `${r.before - r.after} fewer`})
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {rules.length > MOST && <p>… and {rules.length - MOST} more rules.</p>}
      <p className="quiet">Clearances and bender motions are checked after the change.</p>
    </>
  )
}
