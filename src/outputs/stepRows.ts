import { type Layout, type LayoutStep, orderOf, stockOf } from '../bender/layOut.ts'
import { type StepAtDie, stepsAtDie } from '../bender/stepAtDie.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Bender } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, firstLead, trimEnd } from './benchLayout.ts'
import { drawTurn, TURN_HEIGHT, TURN_WIDTH } from './drawTurn.ts'
import { BLACK, GREY, line, PALE, type PaperItem, rectangle, words } from './paper.ts'
import { NO_BREAK, wrapText } from './paperFont.ts'
import type { PaperLengths } from './paperLengths.ts'
import { heading, sentences, type Unit } from './sheetFlow.ts'
import { handling, markFrom, onPartFrom, orderLine, trimOff } from './stepWords.ts'
import { turnWords } from './turnWords.ts'

/** Every step of the run's layout as it happens at the die; none without a layout. */
export const stepsOf = (bench: BenchRun, solved: SolvedRun): StepAtDie[] =>
  bench.layout ? stepsAtDie(bench.layout, stockOf(solved), bench.run.tube.od) : []

/**
 * From the mark of the step before to this one's, along the straight stock: the difference of the two as printed. Null
 * on the first step. `way` says to which end where marks do not simply follow one another away from the first end.
 */
export function chained(
  lengths: PaperLengths,
  layout: Layout,
  i: number,
): { readonly distance: string; readonly way: string } | null {
  const { steps, cutLength } = layout
  const [before, step] = [steps[i - 1], steps[i]]
  if (!before || !step) return null
  const first = firstLead(layout)
  const far = first === 'A' ? 'B' : 'A'
  const along = ({ lead, mark }: LayoutStep) =>
    lead === first ? lengths.place(mark) : lengths.fromOther(cutLength, mark)
  const places = steps.map(along)
  const [from, to] = [places[i - 1]!, places[i]!]
  const inOrder = places.every((p, k) => k === 0 || p.mm >= places[k - 1]!.mm)
  const way = inOrder ? '' : to.mm < from.mm ? `back towards end ${first}` : `on towards end ${far}`
  return { distance: lengths.between(from, to), way }
}

const NOTE = 2.4
const FIGURE = 4
const DO = 2.9

/** Where each column begins and how wide it is, as parts of the width left beside the picture. */
const COLUMNS = [
  { title: 'Bend', part: 0.08 },
  { title: 'Mark, straight stock', part: 0.22 },
  { title: 'or mark, on the part', part: 0.2 },
  { title: 'Before the bend', part: 0.28 },
  { title: 'Finished angle °', part: 0.1, right: true },
  { title: 'DIAL °', part: 0.12, right: true },
] as const

interface Block {
  readonly text: string
  readonly size: number
  readonly bold?: boolean
  readonly grey?: boolean
}

/** The steps in the order of bending, each with what to do and a picture of the turn. */
export function stepRows(
  bench: BenchRun & { readonly layout: Layout; readonly bender: Bender },
  solved: SolvedRun,
  w: number,
  lengths: PaperLengths,
): Unit[] {
  const { layout, bender } = bench
  const steps = stepsOf(bench, solved)
  const room = w - TURN_WIDTH - 1
  const lefts = COLUMNS.map((_, c) => COLUMNS.slice(0, c).reduce((sum, { part }) => sum + part * room, 0))
  const widthOf = (c: number) => COLUMNS[c]!.part * room - 2
  const head: Unit = {
    height: 8.4,
    keepWithNext: true,
    draw: (x, y) => [
      rectangle({ x, y, w, h: 8.4 }, { fill: PALE }),
      ...COLUMNS.flatMap((column, c) =>
        wrapText(column.title, widthOf(c), 2.7, true).map((text, k) =>
          words(
            'right' in column ? x + lefts[c]! + widthOf(c) + 1 : x + lefts[c]! + 1,
            y + 3.2 + k * 3.5,
            text,
            2.7,
            { bold: true, anchor: 'right' in column ? 'end' : 'start' },
          ),
        ),
      ),
      words(x + w - TURN_WIDTH / 2, y + 3.2, 'From the tail', 2.7, { bold: true, anchor: 'middle' }),
      line(x, y + 8.4, x + w, y + 8.4, 0.25),
    ],
  }
  const rows = steps.map((step, i): Unit => {
    const chain = chained(lengths, layout, i)
    const { onPart } = step
    const cells: readonly (readonly Block[])[] = [
      [
        { text: String(step.bend), size: 5, bold: true },
        { text: `step ${i + 1}`, size: NOTE, grey: true },
      ],
      [
        { text: lengths.length(step.step.mark), size: FIGURE, bold: true },
        { text: markFrom(step), size: DO },
        ...(chain
          ? [
              {
                text: `${chain.distance} ${chain.way === '' ? 'from the previous mark' : `${chain.way}, from the previous mark`}`,
                size: NOTE,
              },
            ]
          : []),
      ],
      onPart === null
        ? [{ text: 'not on straight tube', size: DO }]
        : [
            { text: lengths.length(onPart.distance), size: FIGURE },
            // The number stays with its bend.
            { text: onPartFrom(onPart).replace(/bend (\d+)/, `bend${NO_BREAK}$1`), size: DO },
          ],
      [
        ...handling(step).map(text => ({ text, size: DO })),
        ...(step.step.turn === null ? [] : [{ text: capitalTurn(step.step.turn), size: 3.6, bold: true }]),
      ],
      [{ text: formatAngle(step.step.angle, 1, true), size: FIGURE }],
      [
        {
          text: step.step.dial === null ? 'by trial' : formatAngle(step.step.dial, 1, true),
          size: step.step.dial === null ? DO : 5,
          bold: true,
        },
      ],
    ]
    const set = cells.map((blocks, c) => {
      let down = 0
      return blocks.flatMap(({ text, size, bold = false, grey = false }) =>
        wrapText(text, widthOf(c), size, bold).map(l => {
          down += size * 1.28
          return { text: l, size, bold, grey, down }
        }),
      )
    })
    const pictured = step.pointers.length > 0
    const height = Math.max(pictured ? TURN_HEIGHT + 2 : 0, ...set.map(b => (b.at(-1)?.down ?? 0) + 2.4))
    return {
      height,
      repeat: head,
      draw: (x, y) => {
        const items: PaperItem[] = set.flatMap((blocks, c) =>
          blocks.map(b =>
            words(
              'right' in COLUMNS[c]! ? x + lefts[c]! + widthOf(c) + 1 : x + lefts[c]! + 1,
              y + b.down,
              b.text,
              b.size,
              {
                bold: b.bold,
                anchor: 'right' in COLUMNS[c]! ? 'end' : 'start',
                ink: b.grey ? GREY : BLACK,
              },
            ),
          ),
        )
        if (pictured) items.push(...drawTurn(step, bender.hand, x + w - TURN_WIDTH, y + 1))
        items.push(line(x, y + height, x + w, y + height, 0.1, GREY))
        return items
      },
    }
  })
  const inOneLine = orderLine(orderOf(layout))
  const straights = solved.route!.straights.map(lengths.length).join(', ')
  return [
    heading('Bends, in the order of bending', w),
    ...(inOneLine === null ? [] : sentences([inOneLine], w).map(unit => ({ ...unit, keepWithNext: true }))),
    head,
    ...rows,
    ...(layout.trim > 0
      ? sentences([trimOff(lengths.withUnit(layout.trim), trimEnd(layout))], w, 'box')
      : []),
    ...sentences(
      [
        'Marks go on the die’s reference line; its offset is already included. The back of a bend is where a straightedge along the outside of the leg beyond it meets the outside of the straight.',
        'Picture and rotation are as seen from the tail, looking towards the bender. Black: the leg on your side; grey: beyond the die, dashed where another leg hides it; dotted: before the rotation. Leg 1 runs from end A to bend 1.',
        `Straights between tangent points, from end A: ${straights}; insertion is not included.`,
      ],
      w,
    ),
  ]
}

/** "Rotate 90.0° clockwise", or that there is nothing to turn. */
const capitalTurn = (turn: number): string => {
  const said = turnWords(turn)
  return said.startsWith('no rotation') ? 'No rotation' : `Rotate ${said}`
}
