import type { CSSProperties, ReactNode } from 'react'
import { capital } from '../../document/capital.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { endForEnd, NO_MARK_ON_PART, slideWay, takeOut, towardsClamp } from '../../outputs/stepWords.ts'
import { turnPicture } from '../../outputs/turnPicture.ts'
import { springbackAt } from '../../solve/making.ts'
import { useSession } from '../useStore.ts'
import { byTrials, dialAhead, dialOf } from './dial.ts'
import { benchAngle, benchLength, shownStop, unitWord } from './figures.ts'
import { MarkOnPart } from './MarkOnPart.tsx'
import { markNow } from './markNow.ts'
import type { Programme } from './programme.ts'
import type { Progress } from './progress.ts'
import { StockDrawing } from './StockDrawing.tsx'
import { type Screen, turnInWords } from './screens.ts'
import { TurnPicture } from './TurnPicture.tsx'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  readonly screen: Screen
}

interface Begins {
  /** True on the first screen of a step. */
  readonly begins: boolean
}

interface Changes {
  change(patch: Partial<Progress>): void
}

/** What to do now, in figures that are read from a metre and a half away. */
export function Instruction({ programme, progress, screen, begins, change }: Props & Begins & Changes) {
  const unit = useSession(state => state.unit)
  const { layout } = programme
  if (screen.kind === 'cut')
    return (
      <div className="bending-do">
        <h2>Cut the stock{progress.marks === 'stock' ? ' and mark it' : ''}</h2>
        <Huge value={benchLength(layout.cutLength, unit)} unit={unitWord(unit)} says="cut length" />
        <StockDrawing programme={programme} {...(progress.marks === 'part' ? { only: 0 } : {})} />
        <p className="bending-aside">
          {progress.marks === 'stock'
            ? 'Measure each mark from the end shown with it. Write the bend’s number beside it.'
            : 'Make the first mark only; each later one is measured on the part.'}
        </p>
      </div>
    )
  if (screen.kind === 'finished') return null
  const step = layout.steps[screen.step]!
  const atDie = programme.atDie[screen.step]!
  const out = begins ? takeOut(atDie) : null
  const first = out !== null && <p className="bending-first">{out}</p>
  switch (screen.kind) {
    case 'around':
      return (
        <div className="bending-do">
          {first}
          <h2>Turn the tube end for end</h2>
          <p className="bending-word">{endForEnd(atDie)}</p>
        </div>
      )
    case 'slide':
      return <PutToMark programme={programme} progress={progress} step={screen.step} first={first} />
    case 'turn':
      return (
        <div className="bending-do withPicture">
          <div>
            {first}
            <h2>Rotate the tube</h2>
            <Huge value={benchAngle(step.turn ?? 0)} unit="°" says="" />
            <p className="bending-word">
              {turnInWords(step.turn)}
              <small>
                seen from the tail towards the bender, die on your {layout.hand}
                {atDie.turnedEndForEnd && ', from where it lies after turning it end for end'}
              </small>
            </p>
          </div>
          <TurnPicture
            picture={turnPicture(atDie, layout.hand)}
            says={`Rotate the tube ${benchAngle(step.turn ?? 0)} degrees ${turnInWords(step.turn)}`}
          />
        </div>
      )
    case 'short': {
      return (
        <div className="bending-do">
          <h2>Bend, but stop short</h2>
          <Huge value={benchAngle(shownStop(step.angle))} unit="°" says="stop the dial here" />
          <Wanted angle={step.angle} />
          <p>
            Then ease the load off and measure the angle after springback. The rest is bent on the same piece.
          </p>
        </div>
      )
    }
    case 'readShort':
      return (
        <div className="bending-do">
          <h2>Measure the angle after springback</h2>
          <Wanted angle={step.angle} />
          <p>
            The dial stood at <b>{benchAngle(shownStop(step.angle))}°</b>. Type the angle that the protractor
            shows on the tube.
          </p>
        </div>
      )
    case 'bend': {
      const short = progress.short[screen.step] ?? null
      const dial = dialOf(programme, progress, screen.step)
      return (
        <div className="bending-do">
          <h2>{short ? 'Continue bending' : 'Bend'}</h2>
          {dial === null ? (
            <>
              <Huge
                value={benchAngle(step.angle)}
                unit="°"
                says="finished angle; the dial reading is not known"
              />
              <p className="bending-warn">
                Springback of this tube is not known yet: stop short, measure, go on.
              </p>
            </>
          ) : (
            <>
              <Huge value={benchAngle(dial)} unit="°" says="dial" />
              <Wanted angle={step.angle} />
            </>
          )}
          {short && (
            <p>
              Dial {benchAngle(short.dial)}° left {benchAngle(short.measured)}°:{' '}
              {dialAhead(short.dial - short.measured)}.
            </p>
          )}
          {short === null && (
            <ByTrials programme={programme} progress={progress} step={screen.step} change={change} />
          )}
        </div>
      )
    }
    case 'measure': {
      const dial = dialOf(programme, progress, screen.step)
      return (
        <div className="bending-do">
          <h2>Measure bend {step.bend + 1}</h2>
          <Wanted angle={step.angle} />
          <p>
            {dial === null ? '' : `The target on the dial was ${benchAngle(dial)}°. `}Type the angle after
            springback, and the dial reading if it was different; or just press Done.
          </p>
        </div>
      )
    }
  }
}

/** The tube to its mark: which end goes in first, where the mark is, and whether it stays as it lies. */
function PutToMark({
  programme,
  progress,
  step,
  first,
}: Pick<Props, 'programme' | 'progress'> & { readonly step: number; readonly first: ReactNode }) {
  const unit = useSession(state => state.unit)
  const atDie = programme.atDie[step]!
  const mark = markNow(programme, progress, step)
  const { putIn, clampEndChanges, turns, onPart } = atDie
  const way = slideWay(atDie)
  const figure = mark.distance === null ? '?' : benchLength(mark.distance, unit)
  return (
    <div className={`bending-do ${mark.onPart && onPart?.back ? 'withPicture' : ''}`}>
      <div>
        {first}
        <h2>
          {putIn ? 'Put in at' : 'Slide to'} mark {atDie.bend}
        </h2>
        <Huge
          value={figure}
          unit={mark.distance === null ? '' : unitWord(unit)}
          says={
            mark.distance === null
              ? mark.from
              : mark.onPart && onPart?.back
                ? mark.from
                : `${mark.from}, ${mark.onPart ? 'on the part' : 'on the straight stock'}`
          }
        />
        <p className="bending-word">
          {clampEndChanges || putIn ? towardsClamp(atDie) : `Mark ${atDie.bend} on the die line`}
        </p>
        {(putIn || way !== null || (step > 0 && !turns)) && (
          <p className="bending-aside">
            {putIn && `From above${turns ? ', already rotated' : ''}. `}
            {way !== null && `Slide it ${way}. `}
            {step > 0 && !turns && `${capital(turnInWords(atDie.step.turn))}.`}
          </p>
        )}
        {!mark.onPart && onPart === null && <p className="bending-warn">{NO_MARK_ON_PART}</p>}
      </div>
      {mark.onPart && onPart && <MarkOnPart onPart={onPart} figure={`${figure} ${unitWord(unit)}`} />}
    </div>
  )
}

/** What the trials made at this bench say about the dial, beside the bender's record, and the choice between the two. */
function ByTrials({
  programme,
  progress,
  step,
  change,
}: {
  programme: Programme
  progress: Progress
  step: number
} & Changes) {
  const { bender, run, layout } = programme
  const record = springbackOf(bender, run)
  const { angle } = layout.steps[step]!
  const by = byTrials(programme, progress, angle)
  if (by === null) return null
  if (record === null)
    return (
      <p className="bending-care">From the trials made here{by.warning !== null && <b>: {by.warning}</b>}.</p>
    )
  const used = progress.dialFrom === 'trials'
  return (
    <div className="bending-trialDial">
      <span>
        {used
          ? `From the trials made here. The bender’s record gives ${benchAngle(angle + springbackAt(record, angle))}°.`
          : `From the bender’s record. The trials made here give ${benchAngle(by.dial)}°.`}
        {by.warning !== null && ` (${by.warning})`}
      </span>
      <button type="button" onClick={() => change({ dialFrom: used ? 'record' : 'trials' })}>
        {used ? 'Use the record' : 'Use the trials'}
      </button>
    </div>
  )
}

/** How wide a figure is, in ems, for the style sheet to make it fit. */
const wide = (figure: string, unit = '') =>
  ({ '--wide': figure.length * 0.63 + unit.length * 0.36 }) as CSSProperties

function Huge({ value, unit, says }: { value: string; unit: string; says: string }) {
  return (
    <div className="bending-huge">
      <span className="figure" style={wide(value, unit)}>
        {value}
        <span className="unit">{unit}</span>
      </span>
      {says !== '' && <span className="says">{says}</span>}
    </div>
  )
}

const Wanted = ({ angle }: { angle: number }) => (
  <p className="bending-wanted">
    finished angle <b>{benchAngle(angle)}°</b>
  </p>
)

/** The three figures of the bend in hand, small enough to stand beside the one that is wanted now. */
export function ThisBend({ programme, progress, screen }: Props) {
  const unit = useSession(state => state.unit)
  if (!('step' in screen)) return null
  const step = programme.layout.steps[screen.step]!
  const stopping = screen.kind === 'short' || screen.kind === 'readShort'
  const dial = stopping ? shownStop(step.angle) : dialOf(programme, progress, screen.step)
  const now = (...kinds: Screen['kind'][]) => (kinds.includes(screen.kind) ? 'now' : '')
  const { turns } = programme.atDie[screen.step]!
  const mark = markNow(programme, progress, screen.step)
  const figure = mark.distance === null ? '?' : benchLength(mark.distance, unit)
  return (
    <dl className={`bending-three ${screen.kind}`} aria-label={`Bend ${step.bend + 1}`}>
      <div className={now('around', 'slide')}>
        <dt>
          mark {step.bend + 1}, {unitWord(unit)}
        </dt>
        <dd style={wide(figure)}>
          {figure}
          <small className="wantedSmall">{mark.distance === null ? 'cannot be measured' : mark.from}</small>
        </dd>
      </div>
      <div className={now('turn')}>
        <dt>rotation</dt>
        <dd>
          {turns ? `${benchAngle(step.turn!)}°` : 'none'}
          {turns && <small className="wantedSmall">{turnInWords(step.turn)}</small>}
        </dd>
      </div>
      <div className={now('short', 'readShort', 'bend', 'measure')}>
        <dt>{dial === null ? 'dial: not known' : stopping ? 'dial, first stop' : 'dial'}</dt>
        <dd>
          {dial === null ? '?' : `${benchAngle(dial)}°`}
          <small className="wantedSmall"> finished angle {benchAngle(step.angle)}°</small>
        </dd>
      </div>
    </dl>
  )
}
