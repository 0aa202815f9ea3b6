import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { type Decided, reopenedBecause } from '../../checks/decisions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import type { SkidDocument } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { Finding } from '../../findings/finding.ts'
import { findingFigure } from '../../findings/findingFigure.ts'
import { ruleWords } from '../../findings/rules.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { MiddleCut } from '../MiddleCut.tsx'
import { PendingChecks } from '../PendingChecks.tsx'
import { SentenceText } from '../SentenceText.tsx'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { FindingFix } from './FindingFix.tsx'
import { ownFixes } from './fixes/ownFixes.ts'
import { GiveFile } from './GiveFile.tsx'
import { SeverityMark } from './SeverityMark.tsx'
import { countsInWords, SEVERITY_WORD } from './severity.ts'
import { followGap, leaveGap, showFinding } from './showFinding.ts'
import { usePart } from './usePart.ts'
import { bodyPartOf, otherPartOf, partOf, placeOfPart, whereInWords } from './wherePart.ts'
import './panels.css'

/** How many findings are listed at a time. */
const LISTED = 100

/** What the checks found, worst first; each one lights up its part, flies to it, and offers its fix. */
export function FindingsList() {
  const unit = useSession(state => state.unit)
  const inHand = useSession(state => state.runInHand)
  const [scope, setScope] = useState<'all' | 'run'>('all')
  const [at, setAt] = useState(0)
  const [listed, setListed] = useState(LISTED)
  const list = useRef<HTMLUListElement>(null)
  const { document, findings: found, decisions, complete, pending } = useFindings()
  useEffect(() => followGap(unit), [unit])
  useEffect(() => leaveGap(), [])
  const run = document.runs.find(r => r.id === inHand)
  const decided = new Map(decisions.decided.map(d => [d.finding.id, d]))
  const isAccepted = (f: Finding) => decided.get(f.id)?.state === 'accepted'
  const inScope =
    scope === 'run' && run ? found.filter(f => f.where.run === run.id || f.where.other === run.id) : found
  const shown = [...inScope.filter(f => !isAccepted(f)), ...inScope.filter(isAccepted)]
  const accepted = inScope.filter(isAccepted).length
  const fixes = ownFixes(document, shown.slice(0, listed))
  const open = countsInWords(inScope.filter(f => !isAccepted(f)))

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const items = [...(list.current?.querySelectorAll<HTMLElement>('button.finding-main') ?? [])]
    const now = items.indexOf(event.target as HTMLElement)
    if (now < 0) return
    const to = { ArrowDown: now + 1, ArrowUp: now - 1, Home: 0, End: items.length - 1 }[event.key]
    if (to === undefined || !items[to]) return
    event.preventDefault()
    items[to].focus()
  }

  return (
    <section className="findings" aria-label="Findings" tabIndex={-1}>
      <header className="panel-head">
        <h2>Findings</h2>
        {run && (
          <fieldset className="segments">
            <legend className="hidden-label">Findings of</legend>
            <button type="button" aria-pressed={scope === 'all'} onClick={() => setScope('all')}>
              Skid
            </button>
            <button type="button" aria-pressed={scope === 'run'} onClick={() => setScope('run')}>
              <MiddleCut text={visibleText(run.tag)} />
            </button>
          </fieldset>
        )}
      </header>
      <p className={shown.length > 0 ? 'finding-counts' : 'hidden-label'}>
        {[open, accepted > 0 && `${accepted} accepted`].filter(Boolean).join(', ') || 'No findings'}
        {!complete && (
          <>
            {', '}
            <PendingChecks pending={pending} />
          </>
        )}
      </p>
      {document.runs.length === 0 ? (
        <p className="verdict unchecked">
          <SeverityMark of="notChecked" size={20} /> Nothing to check yet: there is no run.
        </p>
      ) : shown.length === 0 && !complete ? (
        <p className="verdict unchecked">
          <SeverityMark of="notChecked" size={20} />
          <span>
            No findings so far; <PendingChecks pending={pending} />
          </span>
        </p>
      ) : shown.length === 0 ? (
        <p className="verdict fine">
          <SeverityMark of="ok" size={20} />
          {`No findings: every check of ${run && scope === 'run' ? run.tag : 'the skid'} was made.`}
        </p>
      ) : (
        <ul ref={list} className="finding-list" onKeyDown={onKeyDown}>
          {shown.slice(0, listed).map((finding, i) => (
            <Item
              key={finding.id}
              finding={finding}
              decided={decided.get(finding.id) ?? null}
              document={document}
              unit={unit}
              hasFix={fixes.has(finding.id)}
              tabbable={i === Math.min(at, shown.length - 1)}
              onFocus={() => setAt(i)}
            />
          ))}
          {shown.length > listed && (
            <li className="finding-more">
              <button type="button" onClick={() => setListed(listed + LISTED)}>
                Show more: {shown.length - listed} not listed
              </button>
            </li>
          )}
        </ul>
      )}
    </section>
  )
}

interface ItemProps {
  readonly finding: Finding
  readonly decided: Decided | null
  readonly document: SkidDocument
  readonly unit: LengthUnit
  /** False where a finding above it has the same fix. */
  readonly hasFix: boolean
  readonly tabbable: boolean
  readonly onFocus: () => void
}

function Item({ finding, decided, document, unit, hasFix, tabbable, onFocus }: ItemProps) {
  const marks = usePart()
  const solved = solvedRunOf(document, finding.where.run)
  const part = partOf(finding, solved) ?? bodyPartOf(finding.where, document)
  const other = otherPartOf(finding.where, document)
  const go = () => {
    const session = sessionStore.getState()
    if (!part) return
    if (finding.where.kind === 'pair') return showFinding(finding, unit)
    session.set({ gap: null })
    session.select(part)
    const place = placeOfPart(part, solved)
    session.look(place ? { kind: 'flyTo', ...place } : { kind: 'fitSelection' })
  }
  return (
    <li
      className={`finding ${finding.severity}${decided?.state === 'accepted' ? ' accepted' : ''}${part ? marks.marks(part) : ''}`}
      {...(part ? marks.pointer(part, other) : {})}
      onFocus={onFocus}
    >
      <button
        type="button"
        className="finding-main"
        tabIndex={tabbable ? 0 : -1}
        onClick={go}
        onFocus={() => {
          if (part) sessionStore.getState().setHover(part, other)
        }}
        onBlur={() => sessionStore.getState().setHover(null)}
      >
        <SeverityMark of={finding.severity} />
        <span className="finding-head">
          <b>{SEVERITY_WORD[finding.severity][0]}</b>
          <span className="finding-where">
            <MiddleCut text={visibleText(whereInWords(finding.where, document))} />
          </span>
          {decided?.acceptance && (
            <span className="tagged">
              {decided.state === 'accepted'
                ? `accepted by ${decided.acceptance.by}`
                : `accepted before: ${inUnit(reopenedBecause(decided), unit)}`}
            </span>
          )}
          <span className="finding-rule">{ruleWords(finding.rule)}</span>
        </span>
        <span className="finding-text">
          <SentenceText sentence={finding.sentence} />
        </span>
        {finding.measured !== null && (
          <span className="finding-figures">
            measured <b>{findingFigure(finding.measured, finding, unit)}</b>
            {finding.limit !== null && (
              <>
                {' · '}limit <b>{findingFigure(finding.limit, finding, unit)}</b>
              </>
            )}
          </span>
        )}
      </button>
      {hasFix && <FindingFix finding={finding} unit={unit} tabbable={tabbable} />}
      {part?.kind === 'model' && <GiveFile modelId={part.model} />}
    </li>
  )
}
