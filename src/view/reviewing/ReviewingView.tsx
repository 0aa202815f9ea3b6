import { useEffect, useMemo, useState } from 'react'
import type { Decided } from '../../checks/decisions.ts'
import { reviewCsv } from '../../outputs/reviewReport.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { PendingChecks } from '../PendingChecks.tsx'
import { followGap } from '../panels/showFinding.ts'
import { Scene } from '../scene/Scene.tsx'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { ChangeDetail } from './ChangeDetail.tsx'
import { ChangesPanel } from './ChangesPanel.tsx'
import { CompareStrip } from './CompareStrip.tsx'
import { DecisionPanel } from './DecisionPanel.tsx'
import { count, type GroupBy, group, search, stateWord } from './groups.ts'
import { ReviewList } from './ReviewList.tsx'
import { StaleList } from './StaleList.tsx'
import { saveReport } from './saveReport.ts'
import './reviewing.css'

const GROUPS: readonly { by: GroupBy; label: string }[] = [
  { by: 'run', label: 'Run' },
  { by: 'rule', label: 'Rule' },
  { by: 'pair', label: 'Pair of parts' },
  { by: 'severity', label: 'State' },
]

/** All findings of all runs: go through them, look at each where it is, and decide. */
export default function ReviewingView() {
  const { document, findings, decisions, complete, pending } = useFindings()
  const [by, setBy] = useState<GroupBy>('run')
  const [text, setText] = useState('')
  const [shown, setShown] = useState<'findings' | 'changes'>('findings')
  const [chosenId, setChosenId] = useState<string | null>(null)
  useEffect(() => () => sessionStore.getState().set({ gap: null }), [])
  const unit = useSession(s => s.unit)
  useEffect(() => followGap(unit), [unit])
  const counts = useMemo(() => count(decisions.decided), [decisions])
  const [withNotes, setWithNotes] = useState(true)
  const notes = useMemo(
    () => decisions.decided.filter(item => stateWord(item) === 'note').length,
    [decisions],
  )
  const listed = useMemo(
    () => search(decisions.decided, text, document, unit).filter(i => withNotes || stateWord(i) !== 'note'),
    [decisions, text, document, unit, withNotes],
  )
  const groups = useMemo(() => group(listed, by, document), [listed, by, document])
  const leftOut = decisions.decided.length - listed.length
  const showAll = () => {
    setText('')
    setWithNotes(true)
  }
  const chosen: Decided | null = decisions.decided.find(d => d.finding.id === chosenId) ?? null
  return (
    <main className="reviewing">
      <section className="review-list" aria-label="Findings of all runs">
        <header>
          <div className="review-switch">
            <button type="button" aria-pressed={shown === 'findings'} onClick={() => setShown('findings')}>
              Findings
            </button>
            <button type="button" aria-pressed={shown === 'changes'} onClick={() => setShown('changes')}>
              Changes
            </button>
            <span className="review-saves">
              <button
                type="button"
                onClick={() =>
                  download(
                    fileNameFor(document.name, '-review.csv'),
                    reviewCsv(document, decisions),
                    'text/csv;charset=utf-8',
                  )
                }
              >
                Save list (CSV)
              </button>
              <button type="button" onClick={() => void saveReport(document, findings, complete)}>
                Report (PDF)
              </button>
            </span>
          </div>
          <p className="review-counts">
            <strong>{counts.open}</strong> open, <strong>{counts.accepted}</strong> accepted,{' '}
            <strong>{decisions.stale.length}</strong> stale,{' '}
            <strong>{counts.notChecked + (pending.clearance ? 1 : 0) + pending.runs}</strong> not checked
          </p>
          {!complete && (
            <p className="quiet">
              <PendingChecks pending={pending} />
            </p>
          )}
          {shown === 'findings' && (
            <div className="review-tools">
              <label>
                <span className="hidden-label">Search the findings</span>
                <input
                  type="search"
                  placeholder="Search tag, rule, text"
                  value={text}
                  onChange={e => setText(e.target.value)}
                />
              </label>
              <label className="group-by">
                By
                <select value={by} onChange={e => setBy(e.target.value as GroupBy)}>
                  {GROUPS.map(g => (
                    <option key={g.by} value={g.by}>
                      {g.label}
                    </option>
                  ))}
                </select>
              </label>
            </div>
          )}
          {shown === 'findings' && (notes > 0 || leftOut > 0) && (
            <div className="review-notes">
              {notes > 0 && (
                <label>
                  <input type="checkbox" checked={withNotes} onChange={e => setWithNotes(e.target.checked)} />{' '}
                  Notes ({notes})
                </label>
              )}
              <span className="left-out" role="status">
                {leftOut > 0 && `${leftOut} of ${decisions.decided.length} not listed`}
              </span>
            </div>
          )}
        </header>
        {shown === 'findings' ? (
          <>
            <ReviewList
              groups={groups}
              chosen={chosen}
              onChoose={item => setChosenId(item.finding.id)}
              empty={
                leftOut === 0 ? (
                  <p>No findings.</p>
                ) : (
                  <>
                    <p>
                      {text.trim() === ''
                        ? 'Only notes, which are hidden. '
                        : `Nothing matches “${text.trim()}”. `}
                      {leftOut === 1 ? '1 finding is not listed.' : `${leftOut} findings are not listed.`}
                    </p>
                    <button type="button" onClick={showAll}>
                      Show all
                    </button>
                  </>
                )
              }
            />
            <StaleList stale={decisions.stale} />
          </>
        ) : (
          <ChangesPanel />
        )}
      </section>
      <section className="review-decision" aria-label={shown === 'findings' ? 'Decision' : 'Change'}>
        {shown === 'findings' ? (
          <DecisionPanel key={chosen?.finding.id ?? 'none'} chosen={chosen} />
        ) : (
          <ChangeDetail />
        )}
      </section>
      <section className="review-stage" aria-label="Skid in 3D">
        <CompareStrip />
        <div className="review-scene">
          <Scene />
        </div>
      </section>
    </main>
  )
}
