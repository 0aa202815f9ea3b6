import { trimEnd } from '../../outputs/benchLayout.ts'
import { useSession } from '../useStore.ts'
import { FarEnd } from './FarEnd.tsx'
import { benchAngle, benchLength, signedAngle, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'
import type { Progress } from './progress.ts'
import { ReleaseNote } from './ReleaseNote.tsx'
import type { Release } from './release.ts'
import { TrialsPanel } from './TrialsPanel.tsx'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  readonly release: Release | null
  change(patch: Partial<Progress>): void
}

/** The finished tube: what was measured, and where that puts its ends. */
export function FinishedPage({ programme, progress, release, change }: Props) {
  const unit = useSession(state => state.unit)
  const { layout, solved } = programme
  const wanted = solved.route!.bends.map(b => b.angle)
  const settled = wanted.map(
    (_, k) => progress.measured[layout.steps.findIndex(s => s.bend === k)]?.measured ?? null,
  )
  const none = settled.every(s => s === null)
  return (
    <div className="bending-do finished">
      <h2>
        {programme.run.tag}:{' '}
        {wanted.length === 1 ? 'the bend is made' : `all ${wanted.length} bends are made`}
      </h2>
      {release && <ReleaseNote release={release} goneOn={progress.goneOn} />}
      {layout.trim > 0 && (
        <p>
          Trim {benchLength(layout.trim, unit)} {unitWord(unit)} off end {trimEnd(layout)}.
        </p>
      )}
      {none ? (
        <p>No angle was measured, so the position of its ends is not known.</p>
      ) : (
        <FarEnd
          programme={programme}
          settled={settled}
          before={`By the measured angles${settled.some(s => s === null) ? ' (bends not measured: their finished angles)' : ''}: `}
        />
      )}
      <table className="bending-table">
        <thead>
          <tr>
            <th>bend</th>
            <th className="number">finished °</th>
            <th className="number">measured °</th>
            <th className="number">off °</th>
          </tr>
        </thead>
        <tbody>
          {layout.steps.map((s, i) => {
            const m = progress.measured[i] ?? null
            return (
              <tr key={s.bend}>
                <td>{s.bend + 1}</td>
                <td className="number">{benchAngle(s.angle)}</td>
                <td className="number">{m ? benchAngle(m.measured) : 'not measured'}</td>
                <td className="number">{m ? signedAngle(m.measured - s.angle) : ''}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      <TrialsPanel programme={programme} progress={progress} change={change} />
    </div>
  )
}
