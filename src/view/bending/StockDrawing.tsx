import { useLayoutEffect, useRef, useState } from 'react'
import { useSession } from '../useStore.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'
import type { Programme } from './programme.ts'

/** Least width drawn, px: narrower, the figures would be smaller than they can be read. */
const LEAST_WIDTH = 260
const LEFT = 26
const TUBE = 26
/** Height of a row of labels and of the ends' names below. */
const LANE = 26
/** A letter of a label, about. */
const LETTER = 10.5

interface Props {
  readonly programme: Programme
  /** The one step whose mark is drawn; all when left out. */
  readonly only?: number
}

/** The straight stock to scale with its marks, each with the end it counts from; the end that leads first on the left. */
export function StockDrawing({ programme, only }: Props) {
  const unit = useSession(state => state.unit)
  const box = useRef<SVGSVGElement>(null)
  // Pixel for pixel: on a phone its figures are as large as on a tablet.
  const [width, setWidth] = useState(960)
  useLayoutEffect(() => {
    const svg = box.current
    if (!svg) return
    const read = () => setWidth(Math.max(LEAST_WIDTH, Math.round(svg.getBoundingClientRect().width)))
    const observer = new ResizeObserver(read)
    observer.observe(svg)
    read()
    return () => observer.disconnect()
  }, [])
  const { layout, tooling, atDie } = programme
  const { cutLength } = layout
  const shown = atDie.filter(({ index }) => only === undefined || index === only)
  const scale = (width - 2 * LEFT) / cutLength
  const first = atDie[0]?.markEnd ?? 'A'
  const other = first === 'A' ? 'B' : 'A'
  const fromLeft = (end: 'A' | 'B', along: number) =>
    LEFT + (end === first ? along : cutLength - along) * scale
  const labels = inLanes(
    width,
    shown.map(({ bend, markEnd, step }) => ({
      key: bend,
      x: fromLeft(markEnd, step.mark),
      text: `${bend}: ${benchLength(step.mark, unit)} ${markEnd}`,
    })),
  )
  const above = Math.max(1, ...labels.map(l => (l.lane % 2 === 0 ? l.lane / 2 + 1 : 0)))
  const below = Math.max(0, ...labels.map(l => (l.lane % 2 === 1 ? (l.lane + 1) / 2 : 0)))
  const top = 12 + above * LANE
  const bottom = top + TUBE
  const height = bottom + 12 + (below + 1) * LANE
  return (
    <svg
      ref={box}
      className="bending-stock"
      style={{ height }}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`Stock of ${benchLength(cutLength, unit)} ${unitWord(unit)}; marks ${shown
        .map(({ bend, markEnd, step }) => `${bend} at ${benchLength(step.mark, unit)} from end ${markEnd}`)
        .join(', ')}`}
    >
      <rect className="tube" x={LEFT} y={top} width={cutLength * scale} height={TUBE} rx={3} />
      {shown.map(({ bend, markEnd, step }) => {
        const a = fromLeft(markEnd, step.start)
        const b = fromLeft(markEnd, step.start + step.stockUsed)
        return (
          <rect
            key={bend}
            className="bend"
            x={Math.min(a, b)}
            y={top}
            width={Math.abs(b - a)}
            height={TUBE}
          />
        )
      })}
      {labels.map(({ key, x, textX, text, lane }) => {
        const rows = Math.floor(lane / 2)
        const tip = lane % 2 === 0 ? top - 10 - rows * LANE : bottom + 10 + rows * LANE
        return (
          <g key={key} className="mark">
            <line x1={x} x2={x} y1={lane % 2 === 0 ? tip : top - 4} y2={lane % 2 === 0 ? bottom + 4 : tip} />
            <text x={textX} y={lane % 2 === 0 ? tip - 5 : tip + 18} textAnchor="middle">
              {text}
            </text>
          </g>
        )
      })}
      <text className="end" x={LEFT} y={height - 8}>
        end {first} · in first
      </text>
      <text className="end" x={width - LEFT} y={height - 8} textAnchor="end">
        end {other}
        {layout.trim > 0 && ` · ${benchLength(layout.trim, unit)} ${unitWord(unit)} to trim`}
      </text>
      <title>
        {`Marks lie ${benchLength(tooling.referenceOffset, unit)} ${unitWord(unit)} from the start of each bend; ${shown
          .map(({ bend, step }) => `bend ${bend} ${benchAngle(step.angle)}°`)
          .join(', ')}`}
      </title>
    </svg>
  )
}

interface Label {
  readonly key: number
  readonly x: number
  readonly text: string
}

/**
 * Labels in rows where none prints over another: even lanes above the tube, odd ones below, the nearest first. A label
 * near an end is shifted inwards.
 */
function inLanes(
  width: number,
  labels: readonly Label[],
): (Label & { readonly textX: number; readonly lane: number })[] {
  const taken: number[] = []
  return [...labels]
    .sort((a, b) => a.x - b.x)
    .map(label => {
      const half = (label.text.length * LETTER) / 2
      const textX = Math.min(Math.max(label.x, half + 4), width - half - 4)
      let lane = 0
      while ((taken[lane] ?? -Infinity) > textX - half) lane++
      taken[lane] = textX + half + 10
      return { ...label, textX, lane }
    })
}
