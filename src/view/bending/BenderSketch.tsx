import type { Bender } from '../../document/types.ts'

/**
 * What grip, follower, reference offset and hand mean, from above, the operator at the tail on the left. A sketch, not
 * to scale; the right-hand bender is the left-hand one mirrored.
 */
export function BenderSketch({ hand }: { hand: Bender['hand'] }) {
  const up = hand === 'left' ? -1 : 1
  // The tube lies on y = 150; the die stands on the far side of it from the follower.
  const y = (fromTube: number) => 150 + up * fromTube
  const box = (from: number, to: number) => ({ y: Math.min(y(from), y(to)), height: Math.abs(to - from) })
  return (
    <figure className="bending-sketch">
      <svg
        viewBox="0 0 640 300"
        role="img"
        aria-label={`Seen from above: the tail of the tube on the left, the follower beside it, the die on your ${hand}, the clamp ahead of the start of bend`}
      >
        <circle className="die" cx={330} cy={y(92)} r={78} />
        <text x={330} y={y(92) + 6} textAnchor="middle">
          die, on your {hand}
        </text>
        <rect className="clamp" x={330} width={120} {...box(-15, -52)} />
        <text x={390} y={y(-33) + 6} textAnchor="middle">
          clamp
        </text>
        <rect className="follower" x={150} width={165} {...box(-15, -52)} />
        <text x={232} y={y(-33) + 6} textAnchor="middle">
          follower
        </text>
        <rect className="tube" x={20} y={136} width={600} height={28} />
        <line className="start" x1={330} x2={330} y1={y(-62)} y2={y(74)} />
        <line className="reference" x1={296} x2={296} y1={y(-14)} y2={y(40)} />
        <path
          className="dimension"
          d={`M 330 ${y(-70)} H 450 M 330 ${y(-58)} V ${y(-78)} M 450 ${y(-52)} V ${y(-78)}`}
        />
        <text x={390} y={y(-88) + 6} textAnchor="middle">
          clamp grip
        </text>
        <path
          className="dimension"
          d={`M 150 ${y(-70)} H 315 M 150 ${y(-52)} V ${y(-78)} M 315 ${y(-52)} V ${y(-78)}`}
        />
        <text x={232} y={y(-88) + 6} textAnchor="middle">
          follower length
        </text>
        <path className="dimension" d={`M 296 ${y(34)} H 330 M 296 ${y(30)} L 200 ${y(62)}`} />
        <text x={196} y={y(70) + 6} textAnchor="end">
          reference offset
        </text>
        <text x={24} y={y(26) + 6}>
          tail: you stand here
        </text>
        <text x={616} y={y(26) + 6} textAnchor="end">
          front
        </text>
        <text x={470} y={y(-33) + 6}>
          start of bend
        </text>
        <path className="leader" d={`M 466 ${y(-33)} H 454 M 454 ${y(-33)} L 334 ${y(-60)}`} />
      </svg>
      <figcaption className="quiet">
        From above, not to scale. The reference line on the die is behind the start of bend (towards you) when
        the offset is positive, ahead of it when negative. The hand is the side the die stands on as you look
        along the tube. The stop is the largest angle the dial reaches.
      </figcaption>
    </figure>
  )
}
