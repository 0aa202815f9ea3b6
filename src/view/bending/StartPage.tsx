import { useState } from 'react'
import type { StepAtDie } from '../../bender/stepAtDie.ts'
import { benderOf, dieOf } from '../../document/lookUp.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import { visibleText } from '../../document/visibleText.ts'
import { NO_MARK_ON_PART, onPartFrom } from '../../outputs/stepWords.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useOneStop } from '../useOneStop.ts'
import { useSession } from '../useStore.ts'
import { BeginUnreleased } from './BeginUnreleased.tsx'
import { BenderChoice } from './BenderChoice.tsx'
import { BenderEditor } from './BenderEditor.tsx'
import { benchAngle, benchLength, signedAngle, unitWord } from './figures.ts'
import { OrderPanel } from './OrderPanel.tsx'
import { followedFigures, type Programme } from './programme.ts'
import { bendsBegun, broughtBack, isBegun, newPiece, type Piece, type Progress } from './progress.ts'
import { ReleaseNote } from './ReleaseNote.tsx'
import type { Release } from './release.ts'
import { SetUpList } from './SetUpList.tsx'
import { Sheet } from './Sheet.tsx'
import { SheetCode } from './SheetCode.tsx'
import { StockDrawing } from './StockDrawing.tsx'
import { sameScreen, screensOf } from './screens.ts'
import { TestBendPanel } from './TestBendPanel.tsx'
import { TrialsPanel } from './TrialsPanel.tsx'
import { type Bending, fromTrials, screensAt } from './useBending.ts'
import { type Clearing, useClearances } from './useClearances.ts'
import { useRelease } from './useRelease.ts'

const PAGES = ['Run', 'Trials', 'Test bend', 'Bender'] as const
type Page = (typeof PAGES)[number]

/** Where a run at the bench begins: what to bend, on what, in which order, and what to see to first. */
export function StartPage({ bending }: { bending: Bending }) {
  const { document, run, result, progress, change, kept, isOrderPending } = bending
  const [page, setPage] = useState<Page>('Run')
  const tabs = useOneStop<HTMLDivElement>()
  const programme = result.ok ? result.programme : null
  const bender = benderOf(document, run)
  const die = bender && dieOf(bender, run)
  const [asking, setAsking] = useState<'new' | 'unreleased' | null>(null)
  const clearing = useClearances(programme)
  const release = useRelease(document, programme, clearing)
  const resume = programme && isBegun(progress) ? resumeAt(programme, progress) : null
  const begin = (goneOn: Progress['goneOn']) => {
    if (!programme) return
    const begun: Partial<Progress> = {
      screen: 0,
      figures: followedFigures(programme),
      laidOutWith: fromTrials(document, run, progress),
      goneOn,
    }
    change(isBegun(progress) ? newPiece(progress, begun) : { ...begun, goneOn })
  }
  const start = () => (release?.state === 'released' ? begin(null) : setAsking('unreleased'))
  return (
    <main className="bending-start">
      <header className="bending-choose">
        <label>
          run
          <select
            value={run.id}
            onChange={event => {
              sessionStore.getState().select({ kind: 'run', run: event.currentTarget.value })
              sessionStore.getState().set({ runInHand: event.currentTarget.value })
            }}
          >
            {document.runs.map(r => (
              <option key={r.id} value={r.id}>
                {visibleText(r.tag)} {r.service && `· ${visibleText(r.service)}`}
              </option>
            ))}
          </select>
        </label>
        <BenderChoice document={document} run={run} />
        <div className="pages" role="tablist" aria-label="Start pages" {...tabs}>
          {PAGES.map(p => (
            <button
              key={p}
              type="button"
              role="tab"
              id={`bending-tab-${p}`}
              aria-selected={p === page}
              aria-controls="bending-page"
              onClick={() => setPage(p)}
            >
              {p}
            </button>
          ))}
        </div>
      </header>
      <div className="bending-page" id="bending-page" role="tabpanel" aria-labelledby={`bending-tab-${page}`}>
        {!result.ok && page !== 'Bender' && !(page === 'Test bend' && die) && (
          <p className="bending-blocked" role="alert">
            Nothing can be bent yet: <SentenceText sentence={result.sentence} />.
            {(result.missing === 'tooling' || result.missing === 'bender') &&
              ' Choose another bender above, or give this one its tooling under “Bender”.'}
          </p>
        )}
        {page === 'Run' && programme && release && (
          <RunPage
            programme={programme}
            progress={progress}
            clearing={clearing}
            release={release}
            change={change}
          />
        )}
        {page === 'Run' && <SheetCode document={document} runId={run.id} order={progress.order} />}
        {page === 'Trials' && programme && (
          <TrialsPanel programme={programme} progress={progress} change={change} />
        )}
        {page === 'Test bend' && bender && die && (
          <TestBendPanel document={document} run={run} bender={bender} tooling={die} />
        )}
        {page === 'Bender' && <BenderEditor document={document} run={run} />}
      </div>
      <footer className="bending-foot">
        <p className="quiet">
          {document.invented && 'Invented demo data. '}
          {!kept && 'This browser saves nothing: the step is lost on reload. '}
          {isOrderPending && 'The order of the bends is still being checked: it and the marks may change.'}
        </p>
        {progress.putAway !== null && (
          <BringBack piece={progress.putAway} progress={progress} change={change} />
        )}
        {resume !== null && programme && (
          <button type="button" className="back" onClick={() => setAsking('new')}>
            Start a new piece…
          </button>
        )}
        {resume !== null && programme ? (
          <button type="button" className="primary done" onClick={() => change({ screen: resume.screen })}>
            {resume.says}
          </button>
        ) : (
          <button type="button" className="primary done" disabled={!programme} onClick={start}>
            Start bending
          </button>
        )}
      </footer>
      {asking === 'new' && (
        <Sheet close={() => setAsking(null)} title="Start a new piece?">
          <p>
            {workWords(progress)} The piece is put away as it is and can be restored; its measured angles stay
            as trials.
          </p>
          <div className="bending-foot">
            <button type="button" className="primary done" onClick={() => setAsking(null)}>
              Keep this piece
            </button>
            <button
              type="button"
              className="back"
              onClick={() => {
                setAsking(null)
                start()
              }}
            >
              Start a new piece
            </button>
          </div>
        </Sheet>
      )}
      {asking === 'unreleased' && release && (
        <BeginUnreleased
          release={release}
          close={() => setAsking(null)}
          begin={goneOn => {
            setAsking(null)
            begin(goneOn)
          }}
        />
      )}
    </main>
  )
}

/** Where the work was left, when the start page was only looked at, and how that reads on a button. */
function resumeAt(programme: Programme, progress: Progress): { screen: number; says: string } {
  const { screens } = screensAt(programme, progress)
  const screen = Math.min(
    progress.leftAt ?? (progress.where ? sameScreen(progress.where, screens) : 0),
    screens.length - 1,
  )
  const at = screens[screen]!
  const bend = 'step' in at ? programme.layout.steps[at.step]!.bend + 1 : null
  return {
    screen,
    says:
      bend !== null
        ? `Continue at bend ${bend}`
        : at.kind === 'cut'
          ? 'Continue at the cut'
          : 'See the finished tube',
  }
}

/** What a new piece would put away. */
function workWords(progress: Progress): string {
  const made = bendsBegun(progress)
  const measured = [...progress.measured, ...progress.short].filter(m => m !== null).length
  const bends =
    made === 0
      ? 'No bend is made yet'
      : made === 1
        ? '1 bend is started or made'
        : `${made} bends are started or made`
  return `${bends}, ${measured === 0 ? 'no angle is measured' : measured === 1 ? '1 angle is measured' : `${measured} angles are measured`}.`
}

/** The piece that was put away, back in work; only while its run has as many bends. */
function BringBack({
  piece,
  progress,
  change,
}: {
  piece: Piece
  progress: Progress
  change(patch: Partial<Progress>): void
}) {
  const fits = piece.order.length === progress.order.length
  return (
    <button
      type="button"
      className="back"
      disabled={!fits}
      title={
        fits
          ? undefined
          : `It was started with ${piece.order.length} bends; the run has ${progress.order.length} now.`
      }
      onClick={() => change(broughtBack(progress))}
    >
      Restore the previous piece
    </button>
  )
}

/** The screen left, among the screens that another habit of stopping short makes. */
const leftAt = (programme: Programme, progress: Progress, stopShort: Progress['stopShort']): number | null =>
  progress.leftAt === null || progress.where === null
    ? progress.leftAt
    : sameScreen(progress.where, screensOf(programme.layout, stopShort))

interface RunPageProps {
  readonly programme: Programme
  readonly progress: Progress
  readonly clearing: Clearing
  readonly release: Release
  change(patch: Partial<Progress>): void
}

function RunPage({ programme, progress, clearing, release, change }: RunPageProps) {
  const unit = useSession(state => state.unit)
  const { layout, solved, tooling, run, atDie } = programme
  const word = unitWord(unit)
  return (
    <>
      <section className="bending-cut" aria-label="Stock">
        <div className="bending-huge">
          <span className="figure">
            {benchLength(layout.cutLength, unit)}
            <span className="unit">{word}</span>
          </span>
          <span className="says">
            cut length · tube {tubeSizeText(run.tube, unit)} {run.tube.material} · CLR{' '}
            {benchLength(tooling.clr, unit)} {word}
            {layout.trim > 0 && ` · with ${benchLength(layout.trim, unit)} ${word} to trim`}
            {layout.stretch > 0 && ` · stretch ${benchLength(layout.stretch, unit)} ${word} taken off`}
          </span>
        </div>
        <StockDrawing programme={programme} />
      </section>
      <ReleaseNote release={release} goneOn={null} />
      <OrderPanel programme={programme} progress={progress} clearing={clearing} change={change} />
      <section aria-label="Marks">
        <table className="bending-table marks">
          <caption>
            Lengths in {word}, each with the end or bend it is measured from; rotation clockwise positive,
            seen from the tail
          </caption>
          <thead>
            <tr>
              <th>bend</th>
              <th className="number">start, on the stock</th>
              <th className="number">mark, on the stock</th>
              <th className="number">mark, on the part</th>
              <th className="number">rotation °</th>
              <th className="number">finished °</th>
              <th className="number">dial °</th>
            </tr>
          </thead>
          <tbody>
            {atDie.map(s => (
              <MarkRow key={s.bend} step={s} />
            ))}
          </tbody>
        </table>
        {layout.warnings.map(w => (
          <p key={w} className="bending-warn">
            {w}
          </p>
        ))}
        {solved.insertionA + solved.insertionB > 0 && (
          <p className="quiet">
            Insertion counted: end A {benchLength(solved.insertionA, unit)}, end B{' '}
            {benchLength(solved.insertionB, unit)} {word}.
          </p>
        )}
      </section>
      <section className="bending-habits" aria-label="How to work">
        <fieldset>
          <legend>Marks</legend>
          <label>
            <input
              type="radio"
              name="marks"
              checked={progress.marks === 'stock'}
              onChange={() => change({ marks: 'stock' })}
            />
            all on the stock before the first bend
          </label>
          <label>
            <input
              type="radio"
              name="marks"
              checked={progress.marks === 'part'}
              onChange={() => change({ marks: 'part' })}
            />
            each measured on the part, just before its bend
          </label>
        </fieldset>
        <fieldset>
          <legend>Stop 5° short, measure, go on</legend>
          {(
            [
              ['first', 'on the first bend (common practice)'],
              ['every', 'on every bend'],
              ['never', 'never'],
            ] as const
          ).map(([value, text]) => (
            <label key={value}>
              <input
                type="radio"
                name="short"
                checked={progress.stopShort === value}
                onChange={() => change({ stopShort: value, leftAt: leftAt(programme, progress, value) })}
              />
              {text}
            </label>
          ))}
        </fieldset>
      </section>
      <SetUpList programme={programme} />
    </>
  )
}

function MarkRow({ step: { step, bend, markEnd, onPart, turns, turnedEndForEnd } }: { step: StepAtDie }) {
  const unit = useSession(state => state.unit)
  return (
    <tr>
      <td>
        {bend}
        {turnedEndForEnd && <span className="quiet"> end for end, end {markEnd} first</span>}
      </td>
      <td className="number">
        {benchLength(step.start, unit)} {markEnd}
      </td>
      <td className="number strong">
        {benchLength(step.mark, unit)} {markEnd}
      </td>
      <td className="number">
        {onPart === null ? (
          <span className="bending-warn" title={NO_MARK_ON_PART}>
            not on straight tube
          </span>
        ) : (
          <>
            {benchLength(onPart.distance, unit)} <span className="quiet">{onPartFrom(onPart)}</span>
          </>
        )}
      </td>
      <td className="number strong">{turns ? signedAngle(step.turn!) : '0'}</td>
      <td className="number">{benchAngle(step.angle)}</td>
      <td className="number strong">{step.dial === null ? 'not known' : benchAngle(step.dial)}</td>
    </tr>
  )
}
