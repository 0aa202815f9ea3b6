import { useState } from 'react'
import { type MadeBend, type MadeSoFar, madeSoFar, SHOWS_DEG, SHOWS_MM } from '../../bender/madeSoFar.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'
import { type FollowedFigures, followedFigures, type Programme } from './programme.ts'
import { bendsBegun, newPiece, type Progress } from './progress.ts'
import { sameScreen } from './screens.ts'
import { type Bending, fromTrials, screensAt } from './useBending.ts'

/** Stands before the steps when the run's figures are no longer those that the work was begun with. */
export function ChangedPage({ bending, programme }: { bending: Bending; programme: Programme }) {
  const { changes, change, progress, document, run } = bending
  const unit = useSession(state => state.unit)
  const [ticked, setTicked] = useState(false)
  const figures = followedFigures(programme)
  const { screens, at } = screensAt(programme, progress)
  const where = progress.where ?? screens[at]!
  const made = bendsBegun({ ...progress, where })
  const so = where.kind === 'cut' ? null : reckon(progress, figures, made)
  const goOn = so?.goOn ?? 'yes'
  const startPage = (
    <button type="button" className="back" onClick={() => change({ screen: null, leftAt: progress.screen })}>
      Start page
    </button>
  )
  const goOnButton = (
    <button
      type="button"
      className={goOn === 'no' ? 'back' : 'primary done'}
      disabled={goOn === 'no' && !ticked}
      onClick={() => change({ figures, screen: sameScreen(where, screens) })}
    >
      {goOn === 'no' ? 'Continue anyway' : 'Continue with the new figures'}
    </button>
  )
  const newButton = (
    <button
      type="button"
      className={goOn === 'no' ? 'primary done' : 'back'}
      onClick={() =>
        change(newPiece(progress, { figures, laidOutWith: fromTrials(document, run, progress), screen: 0 }))
      }
    >
      Start a new piece
    </button>
  )
  return (
    <main className="bending-start">
      <div className="bending-changed" role="alert">
        <h2>The figures changed since this tube was started</h2>
        <ul>
          {changes.map(c => (
            <li key={c}>{c}</li>
          ))}
        </ul>
        {so !== null && (
          <>
            <h3>
              {made === 0 ? 'The stock is cut, no bend is made' : `Made so far: ${bendNames(progress, made)}`}
            </h3>
            <ul>
              {standing(so, made, unit).map(line => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </>
        )}
        <p>
          {goOn === 'no'
            ? 'This piece cannot become the run as it is now.'
            : 'Marks on the stock for bends not yet made are out of date: rub them out and mark again.'}{' '}
          A printed sheet is out of date, too.
        </p>
        {goOn === 'no' && (
          <label className="bending-check">
            <input
              type="checkbox"
              checked={ticked}
              onChange={event => setTicked(event.currentTarget.checked)}
            />
            I know that it will not be this run, and continue anyway
          </label>
        )}
        <div className="bending-foot">
          {startPage}
          {goOn === 'no' ? goOnButton : newButton}
          {goOn === 'no' ? newButton : goOnButton}
        </div>
      </div>
    </main>
  )
}

/** What is made held against the figures of now; a bend only stopped short may still come to any angle past its stop. */
function reckon(progress: Progress, figures: FollowedFigures, made: number): MadeSoFar {
  const laidOut = (of: FollowedFigures, isOld: boolean) => ({
    cutLength: of.cutLength,
    steps: of.steps.map((s, i) => {
      const short = isOld && i === made - 1 && progress.measured[i] == null ? progress.short[i] : null
      const is = figures.steps[i]
      const angle = short && is ? Math.max(short.measured, is.angle) : s.angle
      return { ...s, start: s.start ?? s.mark, angle }
    }),
  })
  return madeSoFar(laidOut(progress.figures!, true), laidOut(figures, false), made, true)
}

const bendNames = (progress: Progress, made: number): string => {
  const names = progress.order.slice(0, made).map(o => o.bend + 1)
  return `bend${names.length === 1 ? '' : 's'} ${names.join(', ')}`
}

/** How what is made stands against the figures of now, a sentence each. */
export function standing(so: MadeSoFar, made: number, unit: LengthUnit): string[] {
  const length = (mm: number) => `${benchLength(Math.abs(mm), unit)} ${unitWord(unit)}`
  const lines = so.off.map(b => bendStands(b, length))
  if (so.otherOrder) lines.push('The current order does not start with the bends already made.')
  else if (made > 0 && so.off.length === 0) lines.push('Every bend made matches the new figures.')
  if (so.cutFirst)
    lines.push(
      `Cut ${length(so.cutFirst.length)} off end ${so.cutFirst.end} first: the bends already made then lie where they should from it.`,
    )
  if (so.spare < 0) lines.push(`The stock is ${length(so.spare)} too short.`)
  if (so.spare > 0)
    lines.push(
      `The stock is ${length(so.spare)} too long${so.goOn === 'no' ? '.' : ': cut it off at the end from which no finished bend was measured.'}`,
    )
  return lines
}

function bendStands(b: MadeBend, length: (mm: number) => string): string {
  const said: string[] = []
  if (Math.abs(b.place) >= SHOWS_MM / 10)
    said.push(`lies ${length(b.place)} too ${b.place > 0 ? 'near to' : 'far from'} end ${b.lead}`)
  if (Math.abs(b.turn) >= SHOWS_DEG / 10)
    said.push(
      `was rotated ${benchAngle(b.turn)}° too ${b.turn > 0 ? 'far counter-clockwise' : 'far clockwise'}`,
    )
  if (Math.abs(b.angle) >= SHOWS_DEG / 10)
    said.push(
      b.angle > 0
        ? `has ${benchAngle(b.angle)}° too little: bend it on`
        : `has ${benchAngle(b.angle)}° too much: it cannot be bent back`,
    )
  const isHair = Math.abs(b.place) < SHOWS_MM && Math.abs(b.turn) < SHOWS_DEG && Math.abs(b.angle) < SHOWS_DEG
  return `Bend ${b.bend + 1} ${said.join(', ') || 'differs by less than is shown here'}${isHair ? ', less than tape and protractor show' : ''}.`
}
