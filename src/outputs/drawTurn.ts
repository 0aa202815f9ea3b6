import type { StepAtDie } from '../bench/stepAtDie.ts'
import type { Bender } from '../document/types.ts'
import { BLACK, GREY, type Ink, PALE, type PaperItem, type PathStep, WHITE, words } from './paper.ts'
import type { Point } from './pictureShape.ts'
import { type TurnPart, turnPicture } from './turnPicture.ts'

/** Millimetres of paper for one unit of the picture. */
const SCALE = 0.058
/** Of the numbers and of the word beside the die, mm. */
const TEXT = 2.2
/** The picture without its line of words at the foot, units. */
const BOX = { left: -178, top: -150, right: 178, bottom: 148 }

/** Size of the picture on paper, mm. */
export const TURN_WIDTH = (BOX.right - BOX.left) * SCALE
export const TURN_HEIGHT = (BOX.bottom - BOX.top) * SCALE

/** Lines of the paper's own width where the screen's would be too heavy or too thin, mm. */
const INKS: Readonly<Record<TurnPart, { readonly ink: Ink; readonly width?: number }>> = {
  bench: { ink: GREY, width: 0.25 },
  die: { ink: PALE },
  farBefore: { ink: GREY, width: 0.25 },
  far: { ink: GREY },
  tube: { ink: BLACK },
  bore: { ink: WHITE },
  nearBefore: { ink: BLACK, width: 0.25 },
  near: { ink: BLACK },
  arrow: { ink: BLACK, width: 0.35 },
  arrowHead: { ink: BLACK },
}

/** The turn before a bend as seen from the tail, its top left corner at (x, y): the screen's picture, for paper. */
export function drawTurn(step: StepAtDie, hand: Bender['hand'], x: number, y: number): PaperItem[] {
  const at = ([px, py]: Point) => [x + (px - BOX.left) * SCALE, y + (py - BOX.top) * SCALE] as const
  const steps = (points: readonly Point[]): PathStep[] =>
    points.map((p, i): PathStep => [i === 0 ? 'M' : 'L', ...at(p)])
  const items = turnPicture(step, hand).shapes.flatMap((shape): PaperItem[] => {
    // The line of the page is level enough.
    if (shape.kind === 'text' || shape.part === 'bench') return []
    const { ink, width } = INKS[shape.part]
    if (shape.kind === 'area') return [{ kind: 'path', steps: [...steps(shape.points), ['Z']], fill: ink }]
    return [
      {
        kind: 'path',
        steps: steps(shape.points),
        stroke: ink,
        width: width ?? shape.width * SCALE,
        ...(shape.dash ? { dash: [0.7, 0.6] } : {}),
      },
    ]
  })
  const [dieX, dieY] = at([hand === 'left' ? -88 : 88, 44])
  items.push(words(dieX, dieY + 0.36 * TEXT, 'die', TEXT, { anchor: 'middle', ink: GREY }))
  // Past the legs' tips, the far one farther out where both point about the same way.
  const tips: (readonly [number, number])[] = []
  for (const { leg, ahead, clock } of [...step.pointers].sort((a, b) => Number(a.ahead) - Number(b.ahead))) {
    const rad = (clock * Math.PI) / 180
    const reach = [ahead ? 144 : 132, 96, 60, 178].find(r => {
      const [px, py] = at([r * Math.sin(rad), 0 - r * Math.cos(rad)])
      return tips.every(t => Math.hypot(t[0] - px, t[1] - py) > 1.3 * TEXT)
    })
    const [px, py] = at([(reach ?? 178) * Math.sin(rad), 0 - (reach ?? 178) * Math.cos(rad)])
    tips.push([px, py])
    items.push({
      kind: 'path',
      steps: circleAbout(px, py, 0.62 * TEXT),
      fill: WHITE,
      ...(ahead ? { stroke: GREY, width: 0.15 } : { stroke: BLACK, width: 0.2 }),
    })
    items.push(words(px, py + 0.36 * TEXT, String(leg), TEXT, { anchor: 'middle', bold: true }))
  }
  return items
}

const circleAbout = (x: number, y: number, r: number): PathStep[] => [
  ...Array.from({ length: 16 }, (_, i): PathStep => {
    const turn = (i * Math.PI) / 8
    return [i === 0 ? 'M' : 'L', x + r * Math.cos(turn), y + r * Math.sin(turn)]
  }),
  ['Z'],
]
