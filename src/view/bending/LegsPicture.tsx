import type { LegsTo } from '../../bender/testBend.ts'

/** A square bend with both legs dimensioned, to the crossing of the centre lines or to the back of the bend. */
export function LegsPicture({ to }: { to: LegsTo }) {
  const corner = to === 'centre' ? 60 : 40
  const word = to === 'centre' ? 'centre lines cross' : 'back of the bend'
  return (
    <svg
      className="bending-legs"
      viewBox="0 0 300 210"
      role="img"
      aria-label={`Leg A and leg B run from each end to ${to === 'centre' ? 'where the centre lines cross' : 'the back of the bend, along the outside'}`}
    >
      <path
        className="tube"
        d="M 270 40 H 100 A 60 60 0 0 0 40 100 V 190 H 80 V 110 A 30 30 0 0 1 110 80 H 270 Z"
      />
      <path className="axis" d="M 280 60 H 60 M 60 200 V 60" />
      <path
        className="dimension"
        d={`M ${corner} 20 H 270 M ${corner} 10 V ${to === 'centre' ? 66 : 46} M 270 10 V 40`}
      />
      <path
        className="dimension"
        d={`M 16 ${corner} V 190 M 6 ${corner} H ${to === 'centre' ? 66 : 46} M 6 190 H 40`}
      />
      <circle className="corner" cx={corner} cy={corner} r={5} />
      <text x={170} y={15} textAnchor="middle">
        leg A
      </text>
      <text x={100} y={150}>
        {word}
      </text>
      <path className="leader" d={`M 104 140 L ${corner + 6} ${corner + 8}`} />
      <text x={24} y={140} transform="rotate(-90 24 140)" textAnchor="middle" dy={-12}>
        leg B
      </text>
    </svg>
  )
}
