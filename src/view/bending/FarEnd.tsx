import { useState } from 'react'
import { type EndMiss, endMiss } from '../../bender/farEnd.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { paperSettings } from '../paper/paperSettings.ts'
import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, signedLength, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'

interface Props {
  readonly programme: Programme
  /** Measured angles in A order, degrees; null: taken as wanted. */
  readonly settled: readonly (number | null)[]
  /** What comes before the sentence, as in "+3.0° from the finished angle: ". */
  readonly before?: React.ReactNode
}

/**
 * Where the other end comes when one is in its port: which is held, which misses, by how much and which way, and
 * whether that is within the sheet's tolerance. The end that leads first is held until the other one is chosen.
 */
export function FarEnd({ programme, settled, before }: Props) {
  const unit = useSession(state => state.unit)
  const [chosen, setChosen] = useState<'A' | 'B' | null>(null)
  const held = chosen ?? programme.atDie[0]?.markEnd ?? 'A'
  const miss = endMiss(programme.solved, settled, held)
  const length = (mm: number) => `${benchLength(mm, unit)} ${unitWord(unit)}`
  const tolerance = endsTolerance()
  const place = (end: 'A' | 'B') =>
    programme.run[end === 'A' ? 'endA' : 'endB'].kind === 'port' ? 'in its port' : 'in its place'
  return (
    <div className="bending-effect farEnd">
      <p>
        {before}
        with end {miss.held} {place(miss.held)}, end {miss.misses} misses by <b>{length(miss.by)}</b>
        {miss.by > SEEN_MM && ` (${waysOf(miss.offset, v => signedLength(v, unit))} along the skid’s axes)`}
        {miss.tilt >= SEEN_DEG && ` and points ${benchAngle(miss.tilt)}° off line`}.
        {tolerance !== null && ` ${againstTolerance(miss, tolerance, length)}`}
      </p>
      <button type="button" onClick={() => setChosen(miss.misses)}>
        Hold end {miss.misses} instead
      </button>
    </div>
  )
}

/** Less reads as nothing. */
const SEEN_MM = 0.05
const SEEN_DEG = 0.05

/** "X +0.3, Z −10.4": the axes along which there is anything to see. */
export const waysOf = (offset: Vec3, signed: (mm: number) => string): string =>
  (['X', 'Y', 'Z'] as const)
    .flatMap((axis, i) => (Math.abs(offset[i]!) > SEEN_MM ? [`${axis} ${signed(offset[i]!)}`] : []))
    .join(', ')

/** End to end is what the sheet's tolerance is of. */
export const againstTolerance = (
  { endToEnd }: Pick<EndMiss, 'endToEnd'>,
  tolerance: number,
  length: (mm: number) => string,
): string =>
  `End to end it is ${length(Math.abs(endToEnd))} too ${endToEnd < 0 ? 'short' : 'long'}: ${
    Math.abs(endToEnd) <= tolerance ? 'within' : 'more than'
  } the ±${length(tolerance)} on the sheet.`

/** ± mm end to end, as last given for the sheet; null when none was. */
function endsTolerance(): number | null {
  const { tolEnds } = paperSettings()
  return tolEnds === '' ? null : Number(tolEnds)
}
