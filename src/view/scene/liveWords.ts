import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import { LIVE_REACH, type LiveAnswer } from '../../store/liveClearance.ts'
import type { Readout } from './sceneStore.ts'

/** The nearest gap in words, as "8.2 mm to A-104 (10 asked), too close"; a figure not known yet is "…". */
export function liveWords(answer: LiveAnswer, unit: LengthUnit): NonNullable<Readout['nearest']> {
  const digits = unit === 'mm' ? 1 : 3
  const show = (mm: number) => formatLength(mm, unit, { digits, withUnit: true })
  if (answer.state === 'waiting') return { state: 'waiting', text: '…' }
  const without = answer.missing.length > 0 ? `, without ${answer.missing.join(', ')}` : ''
  if (answer.state === 'clear')
    return { state: 'clear', text: `${show(LIVE_REACH)} or more clearance everywhere${without}` }
  const { gap, required } = answer.gap
  const name = answer.gap.isSelf ? 'itself' : answer.gap.name
  const asked = `(${formatLength(required, unit, { digits })} required)`
  const text =
    answer.state === 'clash'
      ? `Clash: ${show(-gap)} into ${name} ${asked}`
      : answer.state === 'tooClose'
        ? `Too close: ${shortBy(gap, required, digits, unit)} to ${name} ${asked}`
        : `${show(gap)} to ${name} ${asked}`
  return { state: answer.state, text: `${text}${without}` }
}

/** A gap that is short by less than its rounding would read like what is asked for: it gets more digits. */
function shortBy(gap: number, required: number, digits: number, unit: LengthUnit): string {
  const write = (mm: number, d: number) => formatLength(mm, unit, { digits: d, withUnit: true })
  let d = digits
  while (d < 6 && write(gap, d) === write(required, d)) d++
  return write(gap, d)
}
