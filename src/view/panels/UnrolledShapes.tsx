import type { LengthUnit } from '../../document/quantity.ts'
import { angleKind, lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { rulerTicks } from './rulerTicks.ts'
import { CLOCK_R, TurnClock } from './TurnClock.tsx'
import {
  type BendStretch,
  type Scale,
  type StraightStretch,
  type Turn,
  toPx,
  type Unrolled,
} from './unrolledLayout.ts'

/** Rows of the drawing, px from its top. */
export const Y = { clock: 15, angle: 38, top: 43, bottom: 69, figure: 84, ruler: 93, height: 116 }
export const MID = (Y.top + Y.bottom) / 2
const TALL = Y.bottom - Y.top
/** Mean width of a figure in the drawing's type, px. */
const DIGIT = 6.5

/** The tube itself, with what it needs shaded or, when it is too short, all of it hatched. */
export function StraightShape({ s, scale, uid }: { s: StraightStretch; scale: Scale; uid: string }) {
  const px = (mm: number) => toPx(scale, mm)
  const [x0, x1] = [px(Math.min(s.from, s.to)), px(Math.max(s.from, s.to))]
  const w = Math.max(1, x1 - x0)
  if (s.length < 0) return <rect className="hit" x={x0} y={Y.top} width={w} height={TALL} />
  return (
    <>
      <rect className="hit" x={x0} y={Y.top - 4} width={w} height={Y.figure - Y.top + 8} />
      <rect className="body" fill={`url(#${uid}tube)`} x={x0} y={Y.top} width={w} height={TALL} />
      {s.missing > 0 ? (
        <rect fill={`url(#${uid}short)`} x={x0} y={Y.top} width={w} height={TALL} />
      ) : (
        s.needed
          .filter(n => n.always)
          .map(n => {
            const [a, b] = [px(n.from), px(n.to)]
            return (
              <g key={n.name} className="needed">
                <rect fill={`url(#${uid}need)`} x={a} y={Y.top} width={b - a} height={TALL} />
                <path d={`M${a + 0.5} ${Y.bottom + 2}V${Y.bottom + 5}H${b - 0.5}V${Y.bottom + 2}`} />
              </g>
            )
          })
      )}
    </>
  )
}

interface Written {
  readonly index: number
  readonly text: string
  readonly urgent: boolean
  readonly x: number
  readonly half: number
}

/** The figures under the straights: what is wrong first, then lengths where they fit and cover nothing. */
export function StraightFigures(props: {
  straights: readonly StraightStretch[]
  scale: Scale
  unit: LengthUnit
  width: number
  isSelected: (straight: number) => boolean
}) {
  const { straights, scale, unit, width, isSelected } = props
  const { show, lack } = lengthKind(unit)
  const wanted = straights.flatMap((s): Written[] => {
    const urgent = s.missing > 0
    const text =
      s.length < 0 ? `overlap ${lack(-s.length)}` : urgent ? `${lack(s.missing)} short` : show(s.length)
    const half = (text.length * DIGIT) / 2
    if (!urgent && (s.to - s.from) * scale.pxPerMm < 2 * half + 4) return []
    const middle = toPx(scale, (s.from + s.to) / 2)
    return [{ index: s.index, text, urgent, half, x: Math.max(half + 2, Math.min(width - half - 2, middle)) }]
  })
  const placed: Written[] = []
  const rank = (w: Written) => (straights[w.index]!.length < 0 ? 0 : w.urgent ? 1 : 2)
  for (const w of [...wanted].sort((a, b) => rank(a) - rank(b)))
    if (placed.every(p => Math.abs(p.x - w.x) >= p.half + w.half + 3)) placed.push(w)
  return (
    <g aria-hidden>
      {placed.map(w => (
        <text
          key={w.index}
          x={w.x}
          y={Y.figure}
          className={w.urgent ? 'short-text' : isSelected(w.index) ? 'figure picked' : 'figure'}
        >
          {w.text}
        </text>
      ))}
    </g>
  )
}

export function BendShape({
  b,
  scale,
  uid,
  crowded,
}: {
  b: BendStretch
  scale: Scale
  uid: string
  crowded: boolean
}) {
  const x = toPx(scale, b.from)
  const w = Math.max(2, toPx(scale, b.to) - x)
  const text = `${angleKind.show(b.angle)}°`
  return (
    <>
      <rect className="hit" x={x} y={Y.angle - 10} width={w} height={Y.bottom - Y.angle + 14} />
      <rect
        className="body"
        fill={`url(#${uid}bend)`}
        x={x}
        y={Y.top - 3}
        width={w}
        height={TALL + 6}
        rx={Math.min(3, w / 3)}
      />
      {!crowded && (
        <text x={x + w / 2} y={Y.angle - 1} className="over">
          {text}
        </text>
      )}
      {w >= 7 && (
        <text x={x + w / 2} y={MID + 4} className="in-bend">
          {b.index + 1}
        </text>
      )}
    </>
  )
}

/** Two bends that want the same piece of tube: the overrun straight between them. */
export function Overlap({ s, scale, uid }: { s: StraightStretch; scale: Scale; uid: string }) {
  const [x0, x1] = [toPx(scale, s.to), toPx(scale, s.from)]
  return (
    <rect
      className="overlap"
      fill={`url(#${uid}short)`}
      x={x0}
      y={Y.top - 6}
      width={Math.max(2, x1 - x0)}
      height={TALL + 12}
    />
  )
}

/** The clock between two bends; `room` is the free width around it, px. */
export function TurnShape({ turn, scale, room }: { turn: Turn; scale: Scale; room: number }) {
  const x = toPx(scale, turn.at)
  const r = room < 2 * CLOCK_R ? Math.max(5, room / 2 - 1) : CLOCK_R
  const size = Math.abs(turn.rotation)
  const arrow = size < 0.005 || size > 179.995 ? '' : turn.rotation > 0 ? ' ↻' : ' ↺'
  return (
    <>
      <rect className="hit" x={x - r - 2} y={0} width={2 * r + 4} height={Y.angle - 10} />
      <TurnClock x={x} y={Y.clock} rotation={turn.rotation} r={r} />
      {room > 2 * CLOCK_R + 46 && (
        <text x={x + r + 5} y={Y.clock + 4} className="turn-text">
          {angleKind.show(size)}°{arrow}
        </text>
      )}
    </>
  )
}

/** What goes into the fittings, and the trim: tube that is cut but lies outside the faces. */
export function Outside({ drawn, scale }: { drawn: Unrolled; scale: Scale }) {
  const stretches = [
    { key: 'a', text: '', stretch: drawn.insertionA },
    { key: 'b', text: '', stretch: drawn.insertionB },
    { key: 'trim', text: 'trim', stretch: drawn.trim },
  ]
  return stretches.map(({ key, text, stretch }) => {
    if (!stretch) return null
    const x = toPx(scale, stretch.from)
    const w = toPx(scale, stretch.to) - x
    return (
      <g key={key} className="inserted" aria-hidden>
        <rect x={x} y={Y.top + 3} width={w} height={TALL - 6} />
        {text !== '' && w > text.length * DIGIT + 4 && (
          <text x={x + w / 2} y={MID + 4} className="small">
            {text}
          </text>
        )}
      </g>
    )
  })
}

export function PencilMarks({ marks, scale }: { marks: readonly number[]; scale: Scale }) {
  return (
    <g className="pencil" aria-hidden>
      {marks.map((mark, i) => {
        const x = toPx(scale, mark)
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: marks are known by their place in order
          <g key={i}>
            <line x1={x} x2={x} y1={Y.top} y2={Y.bottom + 4} />
            <path d={`M${x - 3.5} ${Y.bottom + 9}h7l-3.5 -5z`} />
          </g>
        )
      })}
    </g>
  )
}

/** A tape along the stock from its end at A. */
export function Ruler({ scale, length, unit }: { scale: Scale; length: number; unit: LengthUnit }) {
  const zero = toPx(scale, 0)
  return (
    <g className="ruler" aria-hidden>
      <line x1={zero} x2={toPx(scale, length)} y1={Y.ruler} y2={Y.ruler} />
      {rulerTicks(length, scale.pxPerMm, unit).map(t => {
        const x = Math.round(toPx(scale, t.at)) + 0.5
        return (
          <g key={t.at}>
            <line x1={x} x2={x} y1={Y.ruler} y2={Y.ruler + (t.label === null ? 4 : 8)} />
            {t.label !== null && (
              <text x={x} y={Y.ruler + 19}>
                {t.label}
              </text>
            )}
          </g>
        )
      })}
      <text x={3} y={Y.ruler + 9} className="ruler-unit">
        {lengthUnitWord(unit)}
      </text>
    </g>
  )
}

/** Gradients and hatches; ids start with `uid`. */
export function Paints({ uid }: { uid: string }) {
  return (
    <defs>
      {(['tube', 'bend'] as const).map(of => (
        <linearGradient key={of} id={`${uid}${of}`} x1="0" y1="0" x2="0" y2="1">
          <stop offset="0" className={`${of}-edge`} />
          <stop offset="0.3" className={`${of}-light`} />
          <stop offset="0.62" className={`${of}-mid`} />
          <stop offset="1" className={`${of}-edge`} />
        </linearGradient>
      ))}
      <pattern
        id={`${uid}need`}
        width="6"
        height="6"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <line x1="0" y1="0" x2="0" y2="6" className="hatch-need" />
      </pattern>
      <pattern
        id={`${uid}short`}
        width="5"
        height="5"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <rect width="5" height="5" className="hatch-short-ground" />
        <line x1="0" y1="0" x2="0" y2="5" className="hatch-short" />
      </pattern>
    </defs>
  )
}
