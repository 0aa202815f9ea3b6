import type { Pointer, StepAtDie } from '../bench/stepAtDie.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Bender } from '../document/types.ts'
import type { PictureBox, PictureShape, Point } from './pictureShape.ts'

/** What a shape of the turn picture is; screen and paper choose its ink. 'far' lies beyond the die, 'near' on this side. */
export type TurnPart =
  | 'bench'
  | 'die'
  | 'farBefore'
  | 'far'
  | 'tube'
  | 'bore'
  | 'nearBefore'
  | 'near'
  | 'arrow'
  | 'arrowHead'

export type TurnShape = PictureShape<TurnPart>

export interface TurnPicture {
  /** The picture's own units, y down: left, top, width, height. Text is drawn TURN_TEXT units high. */
  readonly box: PictureBox
  /** In the order in which they are painted. */
  readonly shapes: readonly TurnShape[]
  /** What is drawn, one short sentence each. */
  readonly legend: readonly string[]
  /** All of it in words, for whoever does not see it. */
  readonly inWords: string
}

/** Font size of the picture's text, in its units. */
export const TURN_TEXT = 17

const LEG = 112
const ARROW = 78
const BENCH_Y = 140

/** The point at a clock angle (degrees clockwise from straight up) and a distance from the tube's axis. */
const at = (clock: number, distance: number): Point => {
  const rad = (clock * Math.PI) / 180
  return [distance * Math.sin(rad), 0 - distance * Math.cos(rad)]
}

/**
 * What the operator sees at the turn of a step, standing at the tail and looking along the tube towards the bender: the
 * tube end-on, the die beside it, and the legs that stick out next to the straight that is held, before the turn
 * (dashed) and after it. Directions are to scale, lengths are not. A step before which nothing is bent has no legs to
 * draw.
 */
export function turnPicture({ pointers, step }: StepAtDie, hand: Bender['hand']): TurnPicture {
  const far = pointers.find(p => p.ahead)
  const near = pointers.find(p => !p.ahead)
  const side = hand === 'left' ? -1 : 1
  const shapes: TurnShape[] = [
    {
      kind: 'line',
      part: 'bench',
      points: [
        [-175, BENCH_Y],
        [175, BENCH_Y],
      ],
      width: 3,
    },
    { kind: 'area', part: 'die', points: box(side < 0 ? -150 : 26, -20, 124, 40) },
    // At its outer end, clear of the arrow.
    { kind: 'text', x: side * 150, y: 44, text: 'die', anchor: side < 0 ? 'start' : 'end', bold: false },
    ...(far ? leg(far, 'far', 15) : []),
    { kind: 'area', part: 'tube', points: ring(22) },
    { kind: 'area', part: 'bore', points: ring(15) },
    ...(near ? leg(near, 'near', 27) : []),
    ...arrow((near ?? far)?.clockBefore ?? 0, step.turn ?? 0),
    ...[far, near].flatMap(p => (p ? [label(p)] : [])),
    { kind: 'text', x: 175, y: BENCH_Y - 6, text: 'bench', anchor: 'end', bold: false },
  ]
  return {
    box: [-180, -158, 360, 302],
    shapes,
    legend: [
      ...(near ? [`${far ? 'Thick' : 'Drawn'}: leg ${near.leg}, on your side of the die.`] : []),
      ...(far ? [`${near ? 'Thin' : 'Drawn'}: leg ${far.leg}, beyond the die.`] : []),
      ...(far || near ? ['Dashed: before.'] : []),
    ],
    inWords: `Seen from the tail towards the bender: ${
      [near, far].flatMap(p => (p ? [goes(p)] : [])).join('; ') || 'nothing is bent yet'
    }`,
  }
}

const goes = ({ leg, ahead, clock, clockBefore }: Pointer): string =>
  `leg ${leg}, ${ahead ? 'beyond the die' : 'on your side of the die'}, goes from ${degrees(clockBefore)} to ${degrees(clock)} clockwise from straight up`

const degrees = (clock: number): string => `${formatAngle(clock, 1, true)}°`

function leg({ clock, clockBefore }: Pointer, part: 'near' | 'far', width: number): TurnShape[] {
  // The far one is the longer, so that it shows where both point the same way.
  const reach = part === 'far' ? LEG + 14 : LEG
  return [
    {
      kind: 'line',
      part: `${part}Before`,
      points: [[0, 0], at(clockBefore, reach)],
      width: Math.min(8, width / 2),
      dash: [3, 15],
    },
    { kind: 'line', part, points: [[0, 0], at(clock, reach)], width },
  ]
}

/** The leg's number: past the tip of the far one, on the tip of the near one, so that both can point the same way. */
function label({ leg, clock, ahead }: Pointer): TurnShape {
  const [x, y] = at(clock, ahead ? LEG + 32 : LEG - 14)
  return { kind: 'text', x, y: y + TURN_TEXT * 0.36, text: `${leg}`, anchor: 'middle', bold: true }
}

/** Along the turn, from where the leg is to where it goes; a half turn goes the way of its sign. */
function arrow(from: number, turn: number): TurnShape[] {
  if (turn === 0) return []
  const count = Math.max(2, Math.ceil(Math.abs(turn) / 3))
  const to = from + turn
  // The head stands on the arc's end, along its tangent.
  const back = to - Math.sign(turn) * Math.min(14, Math.abs(turn) / 2)
  const stop = Math.abs(turn) > 14 ? back : to
  return [
    {
      kind: 'line',
      part: 'arrow',
      points: Array.from({ length: count + 1 }, (_, i) => at(from + ((stop - from) * i) / count, ARROW)),
      width: 8,
    },
    { kind: 'area', part: 'arrowHead', points: [at(to, ARROW), at(back, ARROW - 12), at(back, ARROW + 12)] },
  ]
}

const box = (x: number, y: number, w: number, h: number): Point[] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
]

const ring = (radius: number): Point[] => Array.from({ length: 48 }, (_, i) => at((i * 360) / 48, radius))
