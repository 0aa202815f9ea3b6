import type { SpringbackFit } from '../../bender/springback.ts'
import type { KeptTrial } from './progress.ts'

const SIZE = 190
const PAD = 34

/**
 * Springback (dial less measured) over the measured angle, each trial with its number, with the fit over the range it
 * holds for. One left out is a ring, one that the others contradict (`off`) has a ring round it.
 */
export function TrialPlot({
  trials,
  off,
  fit,
}: {
  trials: readonly KeptTrial[]
  off: readonly (number | null)[]
  fit: SpringbackFit | null
}) {
  const xs = trials.map(t => t.measured)
  const ys = trials.map(t => t.dial - t.measured)
  const top = Math.max(4, Math.ceil(Math.max(...ys) * 1.3))
  const bottom = Math.min(0, Math.floor(Math.min(...ys)))
  const right = Math.max(120, Math.ceil(Math.max(...xs) / 30) * 30)
  const x = (deg: number) => PAD + (deg / right) * (SIZE * 1.5 - PAD - 10)
  const y = (deg: number) => 12 + ((top - deg) / (top - bottom)) * (SIZE - PAD - 12)
  const fitted = (measured: number) => (fit ? (measured - fit.a) / fit.b - measured : 0)
  const dots = trials.map((t, i) => ({ ...t, name: `${i + 1}`, isOff: (off[i] ?? null) !== null }))
  const xTicks = Array.from({ length: right / 30 + 1 }, (_, i) => i * 30)
  const yTicks = [bottom, (top + bottom) / 2, top]
  return (
    <svg
      className="bending-plot"
      viewBox={`0 0 ${SIZE * 1.5} ${SIZE}`}
      role="img"
      aria-label={`Springback of ${trials.length} trial bends over the measured angle${
        dots.some(t => t.isOff)
          ? `; the others contradict ${dots
              .filter(t => t.isOff)
              .map(t => t.name)
              .join(' and ')}`
          : ''
      }`}
    >
      {xTicks.map(t => (
        <g key={t}>
          <line className="tick" x1={x(t)} x2={x(t)} y1={y(top)} y2={y(bottom)} />
          <text x={x(t)} y={SIZE - 18} textAnchor="middle">
            {t}
          </text>
        </g>
      ))}
      {yTicks.map(t => (
        <g key={t}>
          <line className="tick" x1={x(0)} x2={x(right)} y1={y(t)} y2={y(t)} />
          <text x={PAD - 5} y={y(t) + 4} textAnchor="end">
            {Number(t.toFixed(1))}
          </text>
        </g>
      ))}
      {fit && (
        <>
          <line className="fit far" x1={x(0)} x2={x(right)} y1={y(fitted(0))} y2={y(fitted(right))} />
          <line
            className="fit"
            x1={x(fit.range[0])}
            x2={x(fit.range[1])}
            y1={y(fitted(fit.range[0]))}
            y2={y(fitted(fit.range[1]))}
          />
        </>
      )}
      {dots.map(t => (
        <g key={t.name} className={t.out ? 'trial out' : 'trial'}>
          <circle cx={x(t.measured)} cy={y(t.dial - t.measured)} r={4.5} />
          {t.isOff && <circle className="off" cx={x(t.measured)} cy={y(t.dial - t.measured)} r={8} />}
          <text x={x(t.measured) + 8} y={y(t.dial - t.measured) - 6}>
            {t.name}
          </text>
        </g>
      ))}
      <text x={(SIZE * 1.5 + PAD) / 2} y={SIZE - 3} textAnchor="middle">
        measured °
      </text>
      <text x={4} y={9}>
        springback °
      </text>
    </svg>
  )
}
