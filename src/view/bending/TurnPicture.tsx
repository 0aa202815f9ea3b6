import { type TurnPicture as Picture, TURN_TEXT, type TurnShape } from '../../outputs/turnPicture.ts'

/** The turn as the operator sees it from the tail: the description of `turnPicture`, drawn. */
export function TurnPicture({ picture, says }: { picture: Picture; says: string }) {
  return (
    <figure className="bending-turn">
      <svg viewBox={picture.box.join(' ')} role="img" aria-label={`${says}. ${picture.inWords}`}>
        {picture.shapes.map((shape, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the shapes of one picture never change places
          <Shape key={i} shape={shape} />
        ))}
      </svg>
      <figcaption>{picture.legend.join(' ')}</figcaption>
    </figure>
  )
}

const around = (points: readonly (readonly [number, number])[]) => points.map(p => p.join(',')).join(' ')

function Shape({ shape }: { shape: TurnShape }) {
  if (shape.kind === 'text')
    return (
      <text
        className={shape.bold ? 'number' : undefined}
        x={shape.x}
        y={shape.y}
        fontSize={TURN_TEXT}
        textAnchor={shape.anchor}
      >
        {shape.text}
      </text>
    )
  return shape.kind === 'area' ? (
    <polygon className={shape.part} points={around(shape.points)} />
  ) : (
    <polyline
      className={shape.part}
      points={around(shape.points)}
      fill="none"
      strokeWidth={shape.width}
      strokeDasharray={shape.dash?.join(' ')}
      strokeLinecap="round"
    />
  )
}
