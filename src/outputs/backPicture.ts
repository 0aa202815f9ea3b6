import type { OnPart } from '../bender/onPart.ts'
import type { PictureBox, PictureShape, Point } from './pictureShape.ts'

/** 'tube' the part, 'edge' the straightedge or square, 'mark' the pencil mark, 'tape' what is measured. */
export type BackPart = 'tube' | 'edge' | 'mark' | 'tape'

export interface BackPicture {
  /** Text is drawn BACK_TEXT units high. */
  readonly box: PictureBox
  /** In the order in which they are painted. */
  readonly shapes: readonly PictureShape<BackPart>[]
  /** All of it in words, for whoever does not see it. */
  readonly inWords: string
}

/** Font size of the picture's text, in its units. */
export const BACK_TEXT = 15

const OD = 22
const RADIUS = 44
const LEG = 84
const STRAIGHT = 130
/** Rounding of an angle, degrees. */
const SAME_ANGLE = 0.01

/**
 * How a mark is measured from the back of a made bend: the straight with its mark, the bend at its angle, the
 * straightedge on the outside of the leg beyond it (over 90°: the square on the straight), and the tape between. The
 * angle is to scale, lengths are not. Null when the mark is measured from an end, which needs no picture.
 *
 * @param figure the distance as it is shown.
 */
export function backPicture({ back }: OnPart, figure: string): BackPicture | null {
  if (back === null) return null
  const rad = (back.angle * Math.PI) / 180
  // Along the straight to the right, the bend turning up; outside is below and to the right.
  const onBend = (a: number, radius: number): Point => [
    radius * Math.sin(a),
    0 - RADIUS + radius * Math.cos(a),
  ]
  const beyond = (a: Point, by: number): Point => [a[0] + by * Math.cos(rad), a[1] - by * Math.sin(rad)]
  const arc = Array.from({ length: 25 }, (_, i) => onBend((rad * i) / 24, RADIUS))
  const tip = beyond(onBend(rad, RADIUS), LEG)
  const outside = OD / 2
  const reach = (RADIUS + outside) * Math.tan(Math.min(rad, Math.PI / 2) / 2)
  const mark = 0 - STRAIGHT + 18
  const edge: readonly Point[] = bySquare(back.angle)
    ? [
        [reach, outside + 30],
        [reach, 0 - RADIUS - 24],
      ]
    : [beyond([reach, outside], -30), beyond([reach, outside], reach + LEG)]
  const tapeY = outside + 16
  const shapes: PictureShape<BackPart>[] = [
    { kind: 'line', part: 'tube', points: [[0 - STRAIGHT, 0], ...arc, tip], width: OD },
    { kind: 'line', part: 'edge', points: edge, width: 4 },
    {
      kind: 'line',
      part: 'mark',
      points: [
        [mark, 0 - outside - 7],
        [mark, outside + 7],
      ],
      width: 4,
    },
    {
      kind: 'line',
      part: 'tape',
      points: [
        [mark, tapeY],
        [reach, tapeY],
      ],
      width: 2.5,
    },
    ...[mark, reach].map(
      (x): PictureShape<BackPart> => ({
        kind: 'line',
        part: 'tape',
        points: [
          [x, tapeY - 6],
          [x, tapeY + 6],
        ],
        width: 2.5,
      }),
    ),
    {
      kind: 'text',
      x: (mark + reach) / 2,
      y: tapeY + 4 + BACK_TEXT,
      text: figure,
      anchor: 'middle',
      bold: true,
    },
    { kind: 'text', x: mark, y: 0 - outside - 12, text: 'mark', anchor: 'middle', bold: false },
    {
      kind: 'text',
      x: tip[0] + 14 * Math.sin(rad),
      y: tip[1] + 14 * Math.cos(rad) + 5,
      text: `leg ${back.leg}`,
      anchor: 'start',
      bold: false,
    },
  ]
  const xs = shapes.flatMap(s => (s.kind === 'text' ? [s.x, s.x + 40] : s.points.map(p => p[0])))
  const ys = shapes.flatMap(s => (s.kind === 'text' ? [s.y, s.y - BACK_TEXT] : s.points.map(p => p[1])))
  const [left, top] = [Math.min(...xs) - OD / 2, Math.min(...ys) - OD / 2]
  return {
    box: [left, top, Math.max(...xs) + OD / 2 - left, Math.max(...ys) + OD / 2 - top],
    shapes,
    inWords: `${howToMeasure({ back })} ${figure} to the mark.`,
  }
}

/** True over 90°; at 90° straightedge and square find the same place. */
const bySquare = (angle: number): boolean => angle > 90 + SAME_ANGLE

/** How the tape is held against the back of a bend; '' when the mark is measured from an end. */
export function howToMeasure({ back }: Pick<OnPart, 'back'>): string {
  if (back === null) return ''
  return bySquare(back.angle)
    ? `Square on the straight, against the back of bend ${back.bend}; tape along the straight.`
    : `Straightedge along the outside of leg ${back.leg}; tape along the outside of the straight.`
}
