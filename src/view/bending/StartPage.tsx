import { useState } from 'react'
import type { StepAtDie } from '../../bench/stepAtDie.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import { NO_MARK_ON_PART, onPartFrom } from '../../outputs/stepWords.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { Said } from '../Said.tsx'
import { useOneStop } from '../useOneStop.ts'
import { useSession } from '../useStore.ts'
import { BenderChoice } from './BenderChoice.tsx'
import { BenderEditor } from './BenderEditor.tsx'
import { benchAngle, benchLength, signedAngle, unitWord } from './figures.ts'
import { OrderPanel } from './OrderPanel.tsx'
import { followedFigures, type Programme } from './programme.ts'
import type { Progress } from './progress.ts'
import { SetUpList } from './SetUpList.tsx'
import { SheetCode } from './SheetCode.tsx'
import { StockDrawing } from './StockDrawing.tsx'
import { TestBendPanel } from './TestBendPanel.tsx'
import { TrialsPanel } from './TrialsPanel.tsx'
import { type Bending, fromTrials, screensAt } from './useBending.ts'
import { useClearances } from './useClearances.ts'

const PAGES = ['Run', 'Trials', 'Test bend', 'Bender'] as const
type Page = (typeof PAGES)[number]

/** Where a run at the bench begins: what to bend, on what, in which order, and what to see to first. */
export function StartPage({ bending }: { bending: Bending }) {
  const { document, run, result, progress, change, kept, isOrderPending } = bending
  const [page, setPage] = useState<Page>('Run')
  const tabs = useOneStop<HTMLDivElement>()
  const programme = result.ok ? result.programme : null
  const begun = progress.screen !== null || progress.figures !== null
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
                {r.tag} {r.service && `· ${r.service}`}
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
        {!result.ok && page !== 'Bender' && (
          <p className="bending-blocked" role="alert">
            Nothing can be bent yet: <Said sentence={result.sentence} />.
            {(result.missing === 'tooling' || result.missing === 'bender') &&
              ' Choose another bender above, or give this one its tooling under “Bender”.'}
          </p>
        )}
        {page === 'Run' && programme && <RunPage programme={programme} progress={progress} change={change} />}
        {page === 'Run' && <SheetCode document={document} runId={run.id} order={progress.order} />}
        {page === 'Trials' && programme && (
          <TrialsPanel programme={programme} progress={progress} change={change} />
        )}
        {page === 'Test bend' && programme && <TestBendPanel document={document} programme={programme} />}
        {page === 'Bender' && <BenderEditor document={document} run={run} />}
      </div>
      <footer className="bending-foot">
        <p className="quiet">
          {document.invented && 'Invented demo data. '}
          {!kept && 'This browser keeps nothing: the step is lost on reload. '}
          {isOrderPending && 'The order of the bends is still being checked: it and the marks may change.'}
        </p>
        {begun && programme && progress.screen === null && <Resume bending={bending} programme={programme} />}
        <button
          type="button"
          className="primary done"
          disabled={!programme}
          onClick={() => {
            if (!programme) return
            change({
              screen: 0,
              figures: followedFigures(programme),
              laidOutWith: fromTrials(document, run, progress),
              measured: progress.order.map(() => null),
              short: progress.order.map(() => null),
            })
          }}
        >
          Start bending
        </button>
      </footer>
    </main>
  )
}

/** Back to where the work was left, when the start page was only looked at. */
function Resume({ bending, programme }: { bending: Bending; programme: Programme }) {
  const { progress, change } = bending
  const { screens } = screensAt(programme, progress)
  const { leftAt } = progress
  if (leftAt === null || leftAt >= screens.length) return null
  const screen = screens[leftAt]!
  return (
    <button type="button" className="back" onClick={() => change({ screen: leftAt })}>
      Go on {'step' in screen ? `at bend ${programme.layout.steps[screen.step]!.bend + 1}` : ''}
    </button>
  )
}

interface RunPageProps {
  readonly programme: Programme
  readonly progress: Progress
  change(patch: Partial<Progress>): void
}

function RunPage({ programme, progress, change }: RunPageProps) {
  const unit = useSession(state => state.unit)
  const clearing = useClearances(programme)
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
      <OrderPanel programme={programme} progress={progress} clearing={clearing} change={change} />
      <section aria-label="Marks">
        <table className="bending-table marks">
          <caption>
            Lengths in {word}, each with the end or bend it counts from; rotation clockwise positive, seen
            from the tail
          </caption>
          <thead>
            <tr>
              <th>bend</th>
              <th className="number">start, on the stock</th>
              <th className="number">mark, on the stock</th>
              <th className="number">mark, on the part</th>
              <th className="number">rotation °</th>
              <th className="number">wanted °</th>
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
      <section className="bending-habits" aria-label="How to go about it">
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
                onChange={() => change({ stopShort: value })}
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
