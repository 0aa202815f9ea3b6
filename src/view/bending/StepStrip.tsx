import { hitsOf } from './clearanceWords.ts'
import { benchAngle } from './figures.ts'
import type { Programme } from './programme.ts'
import type { Screen } from './screens.ts'
import type { Clearing } from './useClearances.ts'

interface Props {
  readonly programme: Programme
  readonly screens: readonly Screen[]
  readonly at: number
  readonly clearing: Clearing
}

/** What is done, what is in hand, what remains. */
export function StepStrip({ programme, screens, at, clearing }: Props) {
  const screen = screens[at]
  const now = screen && 'step' in screen ? screen.step : screen?.kind === 'finished' ? Infinity : -1
  const { steps } = programme.layout
  const hits = (i: number) => clearing.kind === 'known' && hitsOf(clearing.steps[i]).length > 0
  return (
    <ol className="bending-strip" aria-label="Steps of this tube">
      <li className={now === -1 ? 'now' : 'done'} aria-current={now === -1 ? 'step' : undefined}>
        <b>{now === -1 ? '▶' : '✓'}</b> cut
      </li>
      {steps.map((s, i) => (
        <li
          key={s.bend}
          className={i < now ? 'done' : i === now ? 'now' : 'ahead'}
          aria-current={i === now ? 'step' : undefined}
        >
          <b>
            {i < now ? '✓' : i === now ? '▶' : ''} {s.bend + 1}
          </b>{' '}
          <span className="angle">{benchAngle(s.angle)}°</span>
          {hits(i) && <span className="hits"> ✕</span>}
          <span className="hidden-label">
            {i < now ? ', done' : i === now ? ', current' : ', still to do'}
            {hits(i) && ', hits the bender'}
          </span>
        </li>
      ))}
      <li className={now === Infinity ? 'now' : 'ahead'} aria-current={now === Infinity ? 'step' : undefined}>
        <b>{now === Infinity ? '✓' : '⚑'}</b> finished
      </li>
    </ol>
  )
}
