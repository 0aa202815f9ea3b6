import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'

const WIDTH = 1000
const HEIGHT = 150
const LEFT = 26
const TOP = 62
const TUBE = 26

/** The straight stock to scale with its marks, the leading end of the first bend on the left. */
export function StockDrawing({ programme, at }: { programme: Programme; at?: number }) {
  const unit = useSession(state => state.unit)
  const { layout, tooling } = programme
  const { cutLength, steps } = layout
  const scale = (WIDTH - 2 * LEFT) / cutLength
  const firstLead = steps[0]?.lead ?? 'A'
  const other = firstLead === 'A' ? 'B' : 'A'
  const fromLeft = (lead: 'A' | 'B', along: number) =>
    LEFT + (lead === firstLead ? along : cutLength - along) * scale
  return (
    <svg
      className="bending-stock"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`Stock of ${benchLength(cutLength, unit)} ${unitWord(unit)} with ${steps.length} marks`}
    >
      <rect className="tube" x={LEFT} y={TOP} width={cutLength * scale} height={TUBE} rx={3} />
      {steps.map((s, i) => {
        const a = fromLeft(s.lead, s.start)
        const b = fromLeft(s.lead, s.start + s.stockUsed)
        return (
          <rect
            key={`b${s.bend}`}
            className={i === at ? 'bend now' : 'bend'}
            x={Math.min(a, b)}
            y={TOP}
            width={Math.abs(b - a)}
            height={TUBE}
          />
        )
      })}
      {steps.map((s, i) => {
        const x = fromLeft(s.lead, s.mark)
        const low = i % 2 === 1
        return (
          <g key={`m${s.bend}`} className={i === at ? 'mark now' : 'mark'}>
            <line x1={x} x2={x} y1={low ? TOP - 4 : TOP - 16} y2={low ? TOP + TUBE + 16 : TOP + TUBE + 4} />
            <text x={x} y={low ? TOP + TUBE + 32 : TOP - 22} textAnchor="middle">
              {s.bend + 1}: {benchLength(s.mark, unit)}
            </text>
          </g>
        )
      })}
      <text className="end" x={LEFT} y={HEIGHT - 8}>
        end {firstLead} · goes in first
      </text>
      <text className="end" x={WIDTH - LEFT} y={HEIGHT - 8} textAnchor="end">
        end {other}
        {layout.trim > 0 && ` · ${benchLength(layout.trim, unit)} ${unitWord(unit)} to trim`}
      </text>
      <title>
        {`Marks lie ${benchLength(tooling.referenceOffset, unit)} ${unitWord(unit)} from the start of each bend; ${steps
          .map(s => `bend ${s.bend + 1} ${benchAngle(s.angle)}°`)
          .join(', ')}`}
      </title>
    </svg>
  )
}
