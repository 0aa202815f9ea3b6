import { useMemo } from 'react'
import { legFromTail } from '../../bench/tubeAtDie.ts'
import { benchAngle } from './figures.ts'
import type { Programme } from './programme.ts'
import { turnInWords } from './screens.ts'

const R = 78
const LEG = 128

/**
 * What the operator sees, standing at the tail and looking along the tube: the tube end-on, the die beside it, the
 * bent leg where it lies (dashed) and where it has to go (solid).
 */
export function TurnPicture({ programme, step }: { programme: Programme; step: number }) {
  const { layout, stock } = programme
  const leg = useMemo(() => legFromTail(layout, stock, step), [layout, stock, step])
  const turn = layout.steps[step]?.turn ?? 0
  const before = leg?.before ?? 0
  const die = layout.hand === 'left' ? -1 : 1
  const tip = (deg: number, length: number) => {
    const rad = (deg * Math.PI) / 180
    return [length * Math.sin(rad), 0 - length * Math.cos(rad)] as const
  }
  const from = tip(before, R)
  const to = tip(before + turn, R)
  const sweep = turn > 0 ? 1 : 0
  // The arrow head stands on the arc's end, along its tangent.
  const head = before + turn + (turn > 0 ? -1 : 1) * Math.min(14, Math.abs(turn) / 2)
  const h1 = tip(head, R - 11)
  const h2 = tip(head, R + 11)
  const [bx, by] = tip(before, LEG)
  const [ax, ay] = tip(before + turn, LEG)
  return (
    <svg
      className="bending-turn"
      viewBox="-160 -150 320 312"
      role="img"
      aria-label={`Seen from the tail towards the bender: turn ${benchAngle(turn)} degrees ${turnInWords(turn)}`}
    >
      <rect className="die" x={die < 0 ? -150 : 26} y={-20} width={124} height={40} rx={5} />
      <text className="dieName" x={die * 88} y={38} textAnchor="middle">
        die
      </text>
      <line className="benchTop" x1={-155} x2={155} y1={140} y2={140} />
      <text className="benchName" x={0} y={157} textAnchor="middle">
        bench · you stand at the tail
      </text>
      <line className="leg before" x1={0} y1={0} x2={bx} y2={by} />
      <line className="leg after" x1={0} y1={0} x2={ax} y2={ay} />
      <path
        className="arrow"
        d={`M ${from[0]} ${from[1]} A ${R} ${R} 0 ${Math.abs(turn) > 180 ? 1 : 0} ${sweep} ${to[0]} ${to[1]}`}
      />
      <path className="arrowHead" d={`M ${to[0]} ${to[1]} L ${h1[0]} ${h1[1]} L ${h2[0]} ${h2[1]} Z`} />
      <circle className="tubeEnd" r={22} />
      <circle className="bore" r={15} />
    </svg>
  )
}
