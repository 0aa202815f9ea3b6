import type { Pointer, StepAtDie } from '../bender/stepAtDie.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Bender } from '../document/types.ts'
import type { Box } from './paper.ts'
import { textWidth } from './paperFont.ts'
import type { PictureBox, PictureShape, Point } from './pictureShape.ts'
import { type Ink, type LegToLabel, type PlacedLabel, placeTurnLabels } from './placeTurnLabels.ts'

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
  | 'behind'
  | 'arrow'
  | 'arrowHead'
  | 'leader'
  | 'farRing'
  | 'nearRing'

export type TurnShape = PictureShape<TurnPart>

export interface TurnPicture {
  /** The picture's own units, y down: left, top, width, height; y down. */
  readonly box: PictureBox
  /** In the order in which they are painted. */
  readonly shapes: readonly TurnShape[]
  /** What is drawn, one short sentence each. */
  readonly legend: readonly string[]
  /** All of it in words, for whoever does not see it. */
  readonly inWords: string
}

/** Font size of the picture's text on screen, in its units: read from where the crank is. */
export const TURN_TEXT = 24

/** The picture's own units: left, top, width, height. */
export const TURN_BOX: PictureBox = [-150, -150, 300, 300]
/** How far the legs reach: the one beyond the die farther, so that it shows where both point the same way. */
const NEAR = { reach: 86, half: 13.5 } as const
const FAR = { reach: 100, half: 7.5 } as const
const ARROW = { radius: 62, half: 4, head: 12 } as const
const TUBE = 22
const BENCH_Y = 142
/** Legs nearer than this in clock lie one on the other: of the one beyond the die what is hidden is dashed. Degrees. */
const HIDDEN_DEG = 6

/** The point at a clock angle (degrees clockwise from straight up) and a distance from the tube's axis. */
const at = (clock: number, distance: number): Point => {
  const rad = (clock * Math.PI) / 180
  return [distance * Math.sin(rad), 0 - distance * Math.cos(rad)]
}

/** How a picture is labelled: font size in its units, and whether the bench stands in it. */
export interface TurnLabelling {
  readonly text: number
  readonly bench: boolean
}

/**
 * What the operator sees at the turn of a step, standing at the tail and looking along the tube towards the bender: the
 * tube end-on, the die beside it, and the legs that stick out next to the straight that is held, before the turn
 * (dotted) and after it. Directions are to scale, lengths are not. A step before which nothing is bent has no legs to
 * draw.
 */
export function turnPicture(
  { pointers, step }: StepAtDie,
  hand: Bender['hand'],
  { text, bench }: TurnLabelling = { text: TURN_TEXT, bench: true },
): TurnPicture {
  const far = pointers.find(p => p.ahead)
  const near = pointers.find(p => !p.ahead)
  const [left, top, width, height] = TURN_BOX
  const die: Box = { x: hand === 'left' ? -124 : 26, y: -20, w: 98, h: 40 }
  const turn = arrow((near ?? far)?.clockBefore ?? 0, step.turn ?? 0, (near ? NEAR : FAR).half)
  const legs: TurnShape[] = [...(far ? leg(far, 'far') : []), ...(near ? leg(near, 'near') : [])]
  const hidden = far && near && apart(far.clock, near.clock) < HIDDEN_DEG ? far : null
  const bottom = bench ? BENCH_Y - 2 : top + height
  const benchWord: Box = {
    x: left + width - textWidth('bench', text) * 1.1,
    y: BENCH_Y - 0.95 * text,
    w: textWidth('bench', text) * 1.1,
    h: 0.9 * text,
  }
  const labels = placeTurnLabels({
    inside: { x: left, y: top, w: width, h: bottom - top },
    size: text,
    legs: [far && toLabel(far, FAR), near && toLabel(near, NEAR)].flatMap(l => l ?? []),
    ink: [
      ...[...legs, ...turn].flatMap(inkOf),
      { from: [0, 0], to: [0, 0], half: TUBE },
      ...(bench ? [inkOfBox(benchWord)] : []),
    ],
    die,
  })
  const shapes: TurnShape[] = [
    ...(bench ? [benchLine()] : []),
    { kind: 'area', part: 'die', points: corners(die) },
    ...legs.filter(s => s.kind !== 'text' && s.part.startsWith('far')),
    { kind: 'area', part: 'tube', points: ring(TUBE) },
    { kind: 'area', part: 'bore', points: ring(15) },
    ...legs.filter(s => s.kind !== 'text' && s.part.startsWith('near')),
    ...(hidden ? [behind(hidden)] : []),
    ...turn,
    ...labels.flatMap((l): TurnShape[] =>
      l.leader ? [{ kind: 'line', part: 'leader', points: l.leader, width: 1.5 }] : [],
    ),
    ...labels.flatMap((l, i) => labelShapes(l, text, i === 0 && far ? 'farRing' : 'nearRing')),
    ...(bench
      ? [
          {
            kind: 'text' as const,
            x: left + width - 2,
            y: BENCH_Y - 0.3 * text,
            text: 'bench',
            anchor: 'end' as const,
            bold: false,
          },
        ]
      : []),
  ]
  return {
    box: TURN_BOX,
    shapes,
    legend: [
      ...(near ? [`${far ? 'Thick' : 'Drawn'}: leg ${near.leg}, on your side of the die.`] : []),
      ...(far ? [`${near ? 'Thin' : 'Drawn'}: leg ${far.leg}, beyond the die.`] : []),
      ...(hidden && near ? [`Dashed: leg ${hidden.leg}, behind leg ${near.leg}.`] : []),
      ...(far || near ? ['Dotted: before.'] : []),
    ],
    inWords: `Seen from the tail towards the bender: ${
      [near, far].flatMap(p => (p ? [goes(p)] : [])).join('; ') || 'nothing is bent yet'
    }`,
  }
}

const goes = ({ leg, ahead, clock, clockBefore }: Pointer): string =>
  `leg ${leg}, ${ahead ? 'beyond the die' : 'on your side of the die'}, goes from ${degrees(clockBefore)} to ${degrees(clock)} clockwise from straight up`

const degrees = (clock: number): string => `${formatAngle(clock, 1, true)}°`

function leg({ clock, clockBefore }: Pointer, part: 'near' | 'far'): TurnShape[] {
  const { reach, half } = part === 'far' ? FAR : NEAR
  return [
    {
      kind: 'line',
      part: `${part}Before`,
      points: [[0, 0], at(clockBefore, reach)],
      width: Math.min(8, half),
      dash: [5, 11],
    },
    { kind: 'line', part, points: [[0, 0], at(clock, reach)], width: 2 * half },
  ]
}

/** The part of the far leg that the near one hides, over it. */
const behind = ({ clock }: Pointer): TurnShape => ({
  kind: 'line',
  part: 'behind',
  points: [at(clock, TUBE + 4), at(clock, NEAR.reach)],
  width: 5,
  dash: [11, 8],
})

const toLabel = ({ leg, clock }: Pointer, { reach, half }: typeof NEAR | typeof FAR): LegToLabel => ({
  text: `${leg}`,
  tip: at(clock, reach),
  half,
})

const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180)

function benchLine(): TurnShape {
  const [left, , width] = TURN_BOX
  return {
    kind: 'line',
    part: 'bench',
    points: [
      [left, BENCH_Y],
      [left + width, BENCH_Y],
    ],
    width: 3,
  }
}

/** What of a shape labels keep off. */
function inkOf(shape: TurnShape): Ink[] {
  if (shape.kind === 'text') return []
  const { points } = shape
  const closed = shape.kind === 'area' ? [...points, points[0]!] : points
  const half = shape.kind === 'line' ? shape.width / 2 : 1
  return closed.slice(1).map((to, i) => ({ from: closed[i]!, to, half }))
}

const inkOfBox = ({ x, y, w, h }: Box): Ink => ({
  from: [x + h / 2, y + h / 2],
  to: [x + w - h / 2, y + h / 2],
  half: h / 2,
})

/** A number in its ring, or a word. */
function labelShapes({ text, centre, ring: radius }: PlacedLabel, size: number, part: TurnPart): TurnShape[] {
  const [x, y] = centre
  const round = radius === null ? [] : ring(radius).map(([px, py]): Point => [px + x, py + y])
  return [
    ...(radius === null ? [] : [{ kind: 'area' as const, part, points: round }]),
    { kind: 'text', x, y: y + 0.36 * size, text, anchor: 'middle', bold: radius !== null },
  ]
}

/**
 * Along the turn, from where the leg is to the edge of where it goes, so that its head does not vanish in the leg; a
 * half turn goes the way of its sign.
 */
function arrow(from: number, turn: number, legHalf: number): TurnShape[] {
  if (turn === 0) return []
  const { radius, half, head } = ARROW
  const size = Math.abs(turn)
  const edge = Math.min((Math.asin((legHalf + 1) / radius) * 180) / Math.PI, size / 2)
  const to = size - edge
  // The head stands on the arc's end, along its tangent.
  const back = to - Math.min(14, to / 2)
  const stop = to > 14 ? back : to
  const place = (deg: number, distance: number) => at(from + Math.sign(turn) * deg, distance)
  const count = Math.max(2, Math.ceil(size / 3))
  return [
    {
      kind: 'line',
      part: 'arrow',
      points: Array.from({ length: count + 1 }, (_, i) => place((stop * i) / count, radius)),
      width: 2 * half,
    },
    {
      kind: 'area',
      part: 'arrowHead',
      points: [place(to, radius), place(back, radius - head), place(back, radius + head)],
    },
  ]
}

const corners = ({ x, y, w, h }: Box): Point[] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
]

const ring = (radius: number): Point[] => Array.from({ length: 48 }, (_, i) => at((i * 360) / 48, radius))
