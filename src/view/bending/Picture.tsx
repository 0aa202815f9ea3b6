import type { PictureBox, PictureShape } from '../../outputs/pictureShape.ts'

interface Props {
  readonly box: PictureBox
  readonly shapes: readonly PictureShape<string>[]
  /** Height of its text, in its units. */
  readonly textSize: number
  /** All of it in words. */
  readonly label: string
}

/** A small picture as outputs describe it; the style sheet gives each part its ink. */
export function Picture({ box, shapes, textSize, label }: Props) {
  return (
    <svg className="bending-picture" viewBox={box.join(' ')} role="img" aria-label={label}>
      {shapes.map((shape, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the shapes of one picture never change places
        <Shape key={i} shape={shape} textSize={textSize} />
      ))}
    </svg>
  )
}

const around = (points: readonly (readonly [number, number])[]) => points.map(p => p.join(',')).join(' ')

function Shape({ shape, textSize }: { shape: PictureShape<string>; textSize: number }) {
  if (shape.kind === 'text')
    return (
      <text
        className={shape.bold ? 'number' : undefined}
        x={shape.x}
        y={shape.y}
        fontSize={textSize}
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
      strokeLinejoin="round"
    />
  )
}
