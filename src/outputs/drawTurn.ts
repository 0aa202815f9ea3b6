import type { StepAtDie } from '../bender/stepAtDie.ts'
import type { Bender } from '../document/types.ts'
import { BLACK, GREY, type Ink, PALE, type PaperItem, type PathStep, WHITE, words } from './paper.ts'
import type { Point } from './pictureShape.ts'
import { TURN_BOX, type TurnPart, turnPicture } from './turnPicture.ts'

/** Millimetres of paper for one unit of the picture. */
const SCALE = 0.058
/** Of the numbers and of the word beside the die, mm. */
const TEXT = 2.2

const [LEFT, TOP, WIDTH, HEIGHT] = TURN_BOX

/** Size of the picture on paper, mm. */
export const TURN_WIDTH = WIDTH * SCALE
export const TURN_HEIGHT = HEIGHT * SCALE

/** Inks, and lines of the paper's own width where the screen's would be too heavy or too thin, mm. */
const INKS: Readonly<
  Record<TurnPart, { readonly fill?: Ink; readonly stroke?: Ink; readonly width?: number }>
> = {
  bench: { stroke: GREY, width: 0.25 },
  die: { fill: PALE },
  farBefore: { stroke: GREY, width: 0.25 },
  far: { stroke: GREY },
  tube: { fill: BLACK },
  bore: { fill: WHITE },
  nearBefore: { stroke: BLACK, width: 0.25 },
  near: { stroke: BLACK },
  behind: { stroke: WHITE, width: 0.35 },
  arrow: { stroke: BLACK, width: 0.35 },
  arrowHead: { fill: BLACK },
  leader: { stroke: BLACK, width: 0.12 },
  farRing: { fill: WHITE, stroke: GREY, width: 0.15 },
  nearRing: { fill: WHITE, stroke: BLACK, width: 0.25 },
}

/** The turn before a bend as seen from the tail, its top left corner at (x, y): the screen's picture, for paper. */
export function drawTurn(step: StepAtDie, hand: Bender['hand'], x: number, y: number): PaperItem[] {
  const at = ([px, py]: Point) => [x + (px - LEFT) * SCALE, y + (py - TOP) * SCALE] as const
  const steps = (points: readonly Point[]): PathStep[] =>
    points.map((p, i): PathStep => [i === 0 ? 'M' : 'L', ...at(p)])
  // The line of the page is level enough: no bench.
  const { shapes } = turnPicture(step, hand, { text: TEXT / SCALE, bench: false })
  return shapes.map((shape): PaperItem => {
    if (shape.kind === 'text') {
      const [tx, ty] = at([shape.x, shape.y])
      const { bold, anchor } = shape
      return words(tx, ty, shape.text, TEXT, { anchor, bold, ink: bold ? BLACK : GREY })
    }
    const { width, ...inks } = INKS[shape.part]
    if (shape.kind === 'area')
      return {
        kind: 'path',
        steps: [...steps(shape.points), ['Z']],
        ...inks,
        ...(width === undefined ? {} : { width }),
      }
    return {
      kind: 'path',
      steps: steps(shape.points),
      ...inks,
      width: width ?? shape.width * SCALE,
      ...(shape.dash ? { dash: shape.dash.map(d => d * SCALE) } : {}),
    }
  })
}
