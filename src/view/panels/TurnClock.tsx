/** Radius of the clock's face, px. */
export const CLOCK_R = 12

/**
 * A clock face for a plane rotation: 12 o'clock is the plane of the bend before, the hand the plane of the next,
 * as seen looking along the tube from A to B.
 */
export function TurnClock({
  x,
  y,
  rotation,
  r = CLOCK_R,
}: {
  x: number
  y: number
  rotation: number
  r?: number
}) {
  const rad = (rotation * Math.PI) / 180
  const tip = { x: x + r * 0.78 * Math.sin(rad), y: y - r * 0.78 * Math.cos(rad) }
  const arcR = r * 0.5
  const arcEnd = { x: x + arcR * Math.sin(rad), y: y - arcR * Math.cos(rad) }
  return (
    <g className="clock" aria-hidden>
      <circle className="clock-face" cx={x} cy={y} r={r} />
      {[0, 90, 180, 270].map(deg => {
        const a = (deg * Math.PI) / 180
        const inner = deg === 0 ? r - 5 : r - 2.5
        return (
          <line
            key={deg}
            className={deg === 0 ? 'clock-twelve' : 'clock-tick'}
            x1={x + inner * Math.sin(a)}
            y1={y - inner * Math.cos(a)}
            x2={x + (r - 0.5) * Math.sin(a)}
            y2={y - (r - 0.5) * Math.cos(a)}
          />
        )
      })}
      {Math.abs(rotation) > 1 && (
        <path
          className="clock-sweep"
          d={`M ${x} ${y} L ${x} ${y - arcR} A ${arcR} ${arcR} 0 0 ${rotation > 0 ? 1 : 0} ${arcEnd.x} ${arcEnd.y} Z`}
        />
      )}
      <line className="clock-hand" x1={x} y1={y} x2={tip.x} y2={tip.y} />
      <circle className="clock-hub" cx={x} cy={y} r={1.8} />
    </g>
  )
}
