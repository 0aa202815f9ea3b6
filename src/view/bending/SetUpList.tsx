import { CAUTIONS } from '../../bender/cautions.ts'
import { KINDS } from '../../bender/kinds/benderKinds.ts'
import { followerLine } from '../../outputs/sheetText.ts'
import { useSession } from '../useStore.ts'
import { benchLength, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'

/** What to put on the bender, what to set, and what keeps hands whole. */
export function SetUpList({ programme }: { programme: Programme }) {
  const unit = useSession(state => state.unit)
  const { bender, tooling, run } = programme
  const length = (mm: number) => `${benchLength(mm, unit)} ${unitWord(unit)}`
  const offset = tooling.referenceOffset
  return (
    <section className="bending-setup" aria-label="Set-up">
      <div>
        <h3>Set up</h3>
        <ul>
          <li>
            {bender.name}: {bender.hand}-hand {KINDS[bender.kind].words} bender. Die, clamp and follower for
            OD {length(run.tube.od)}, CLR {length(tooling.clr)} (tooling {tooling.id}, CLR{' '}
            {tooling.clrMeasured === 'settled' ? 'measured on a settled bend' : 'of the die'}).
          </li>
          <li>
            Reference line {length(Math.abs(offset))} {offset >= 0 ? 'behind' : 'ahead of'} the start of bend,
            towards the {offset >= 0 ? 'tail' : 'clamp'}.
          </li>
          <li>
            Clamp grip {length(tooling.clampGrip)}, follower {length(tooling.followerLength)}, stop at{' '}
            {tooling.maxAngle}°.
          </li>
          <li>{followerLine(bender, length)}</li>
          {bender.tubeOutFirst && (
            <li>After each bend, remove the tube before returning the arm, then reload it.</li>
          )}
          {bender.note !== '' && <li>On record for this bender: {bender.note}</li>}
        </ul>
      </div>
      <div>
        <h3>Take care</h3>
        <ul>
          {CAUTIONS.map(line => (
            <li key={line}>{line}</li>
          ))}
          {bender.catalogueId !== null && (
            <li>This bender’s figures are invented for the demo: measure your own.</li>
          )}
        </ul>
      </div>
    </section>
  )
}
