import { type FormEvent, useId, useState } from 'react'
import { useStore } from 'zustand'
import { type Decided, reopenedBecause } from '../../checks/decisions.ts'
import { isGapFinding } from '../../checks/mend/gapFinding.ts'
import { CATEGORIES } from '../../document/acceptanceCategories.ts'
import type { Acceptance } from '../../document/types.ts'
import { findingFigure } from '../../findings/findingFigure.ts'
import { ruleWords } from '../../findings/rules.ts'
import { partName } from '../../skid/partName.ts'
import { documentStore } from '../../store/documentStore.ts'
import { mendStore } from '../../store/mendStore.ts'
import { keepReviewerName, reviewerName } from '../../store/reviewer.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { GiveFile } from '../panels/GiveFile.tsx'
import { bodyPartOf } from '../panels/wherePart.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession, useShown } from '../useStore.ts'
import { stateWord } from './groups.ts'
import MendPanel from './MendPanel.tsx'
import { StateMark } from './StateMark.tsx'

/** A finding is looked at this long before ways to mend it are searched for, ms. */
const LOOKED_AT = 250

/** What the chosen finding says, and the form that accepts it: a reason and a name, or it stays open. */
export function DecisionPanel({ chosen }: { readonly chosen: Decided | null }) {
  const document = useShown()
  const unit = useSession(s => s.unit)
  const taken = useStore(mendStore, s => s.taken)
  if (!chosen)
    return (
      <div className="decision-none">
        {taken?.document === document && <p className="mend-taken">{taken.text}</p>}
        <h2>Decision</h2>
        <p className="quiet">
          Choose a finding in the list. Step through them with the arrow keys; the view follows.
        </p>
      </div>
    )
  const { finding, acceptance, state, why } = chosen
  const { run, other } = finding.where
  const body = bodyPartOf(finding.where, document)
  return (
    <div className="decision">
      <h2>{ruleWords(finding.rule)}</h2>
      <StateMark item={chosen} />
      <p>
        <SentenceText sentence={finding.sentence} />
      </p>
      <dl>
        <dt>Where</dt>
        <dd>
          {run ? partName(document, run) : 'skid'}
          {other ? ` and ${partName(document, other)}` : ''}
        </dd>
        {finding.measured !== null && (
          <>
            <dt>Measured</dt>
            <dd className="number">{findingFigure(finding.measured, finding, unit)}</dd>
          </>
        )}
        {finding.limit !== null && (
          <>
            <dt>Limit</dt>
            <dd className="number">{findingFigure(finding.limit, finding, unit)}</dd>
          </>
        )}
      </dl>
      {acceptance && (
        <div className="accepted-before">
          <h3>{state === 'accepted' ? 'Accepted' : 'Accepted before, open again'}</h3>
          {why && (
            <p>
              Because <SentenceText sentence={reopenedBecause(chosen)} />.
            </p>
          )}
          <p>
            {acceptance.category}: {acceptance.reason}
          </p>
          <p className="quiet">
            {acceptance.by}, {acceptance.on}
            {acceptance.measured !== null && `, at ${findingFigure(acceptance.measured, finding, unit)}`}
          </p>
          <button type="button" onClick={() => withdraw(finding.id)}>
            Withdraw acceptance
          </button>
        </div>
      )}
      {isGapFinding(finding) && state !== 'accepted' && (
        <MendPanel finding={finding} after={LOOKED_AT} onTaken={focusList} />
      )}
      {(stateWord(chosen) === 'open' || stateWord(chosen) === 'reopened') && <AcceptForm chosen={chosen} />}
      {stateWord(chosen) === 'not checked' && (
        <p className="quiet">A check that was not run cannot be accepted: supply what it needs first.</p>
      )}
      {body?.kind === 'model' && <GiveFile modelId={body.model} />}
    </div>
  )
}

/** What had the focus has gone with the decision: it goes to the finding that can be tabbed to now. */
function focusList() {
  requestAnimationFrame(() => {
    window.document.querySelector<HTMLElement>('.review-row[tabindex="0"]')?.focus()
  })
}

function AcceptForm({ chosen }: { readonly chosen: Decided }) {
  const id = useId()
  const [category, setCategory] = useState<Acceptance['category'] | ''>('')
  const [reason, setReason] = useState('')
  const [by, setBy] = useState(reviewerName)
  const [wanting, setWanting] = useState('')
  const submit = (event: FormEvent) => {
    event.preventDefault()
    if (category === '' || !reason.trim() || !by.trim()) {
      const missing = [!category && 'a category', !reason.trim() && 'a reason', !by.trim() && 'your name']
      setWanting(
        `Accepting needs ${missing
          .filter(Boolean)
          .join(', ')
          .replace(/, ([^,]*)$/, ' and $1')}.`,
      )
      return
    }
    accept(chosen, { category, reason: reason.trim(), by: by.trim() })
    const notKept = keepReviewerName(by)
    if (notKept) sessionStore.getState().say(`Accepted. Your name is not remembered: ${notKept}.`)
  }
  return (
    <form onSubmit={submit} noValidate>
      <h3>Accept as it stands</h3>
      <label htmlFor={`${id}c`}>Category</label>
      <select
        id={`${id}c`}
        value={category}
        aria-invalid={wanting !== '' && !category}
        aria-describedby={`${id}w`}
        onChange={e => setCategory(e.target.value as Acceptance['category'] | '')}
      >
        <option value="" disabled>
          Choose one…
        </option>
        {CATEGORIES.map(c => (
          <option key={c}>{c}</option>
        ))}
      </select>
      <label htmlFor={`${id}r`}>Reason</label>
      <textarea
        id={`${id}r`}
        rows={3}
        value={reason}
        aria-invalid={wanting !== '' && !reason.trim()}
        aria-describedby={`${id}w`}
        onChange={e => setReason(e.target.value)}
      />
      <label htmlFor={`${id}n`}>Name</label>
      <input
        id={`${id}n`}
        value={by}
        aria-invalid={wanting !== '' && !by.trim()}
        aria-describedby={`${id}w`}
        autoComplete="name"
        onChange={e => setBy(e.target.value)}
      />
      <p className="refusal" id={`${id}w`} role="alert">
        {wanting}
      </p>
      <button type="submit" className="primary">
        Accept this finding
      </button>
      <p className="quiet">
        It opens again when the figure gets worse by more than 0.1 (mm or °) or its limit changes.
      </p>
    </form>
  )
}

function accept({ finding }: Decided, said: Pick<Acceptance, 'category' | 'reason' | 'by'>) {
  const acceptance: Acceptance = {
    ...said,
    finding: finding.id,
    on: new Date().toISOString().slice(0, 10),
    measured: finding.measured,
    limit: finding.limit,
  }
  documentStore.getState().apply(`Accept ${ruleWords(finding.rule)}`, d => ({
    ...d,
    acceptances: [...d.acceptances.filter(a => a.finding !== finding.id), acceptance],
  }))
  sessionStore.getState().say('Accepted. It stays in the list and is printed on the sheet.')
  focusList()
}

function withdraw(findingId: string) {
  documentStore.getState().apply('Withdraw acceptance', d => ({
    ...d,
    acceptances: d.acceptances.filter(a => a.finding !== findingId),
  }))
}
