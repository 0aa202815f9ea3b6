import { runOf } from '../document/lookUp.ts'
import { formatLength, type LengthUnit } from '../document/quantity.ts'
import { inUnit } from '../document/sentence.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { drawSquareViews } from './drawSquareViews.ts'
import { drawView } from './drawView.ts'
import { OutputError } from './outputError.ts'
import { GREY, line, moved, type PaperItem, type PaperPage, RED, words } from './paper.ts'
import { finishedOrThrow } from './solidTubes.ts'
import { fitted } from './titleBlock.ts'
import { ISOMETRIC } from './views.ts'

const WIDTH = 297
const HEIGHT = 210
const EDGE = 10

/**
 * The run's views alone, on a lying A4: isometric at the left, one or two square views at the right, their scale
 * named. For SVG, and for laying into other documents.
 */
export function runDrawing(document: SkidDocument, solved: SolvedRun, unit: LengthUnit = 'mm'): PaperPage {
  const run = runOf(document, solved.runId)
  if (run === null) throw new OutputError(`run ${solved.tag}`, 'no such run', 'a run of the document')
  const tube = finishedOrThrow(solved)
  const { od } = run.tube
  const length = (mm: number) =>
    unit === 'mm' ? formatLength(mm, unit, { digits: 1, fixed: true }) : formatLength(mm, unit, { digits: 3 })
  const half = (WIDTH - 3 * EDGE) / 2
  const top = EDGE + 8
  const room = HEIGHT - top - EDGE - 8
  const name = fitted(
    `${run.tag}   tube ${tubeSizeText(run.tube, unit)}   ${document.name}`,
    WIDTH - 2 * EDGE,
    4.5,
  )
  const items: PaperItem[] = [words(EDGE, EDGE + 4, name.text, name.size, { bold: true })]
  const notes: string[] = []
  const iso = drawView(
    tube,
    ISOMETRIC,
    { x: EDGE, y: top, w: half, h: room },
    { od, length, dimensions: [], legs: true },
  )
  items.push(...iso.items)
  notes.push(...iso.notes)
  const square = drawSquareViews(tube, od, { w: half, h: room }, length)
  items.push(...moved(square.items, 2 * EDGE + half, top))
  notes.push(...square.notes)
  const foot = `Lengths in ${unit === 'mm' ? 'mm' : 'inches'}; A and B are the tube’s ends${tube.faces.length > 0 ? ', strokes across it the port faces' : ''}; figures in parentheses are for reference. ${notes.join('. ')}`
  const below = fitted(foot, WIDTH - 2 * EDGE, 2.6)
  items.push(words(EDGE, HEIGHT - EDGE, below.text, below.size))
  return { width: WIDTH, height: HEIGHT, items }
}

/** The drawings of several runs on one long page, one under another; where a run has no route stands why. */
export function runDrawings(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  unit: LengthUnit = 'mm',
): PaperPage {
  const pages = solved.map(s =>
    s.route === null ? { items: withoutRoute(s, unit) } : runDrawing(document, s, unit),
  )
  return {
    width: WIDTH,
    height: HEIGHT * pages.length,
    items: pages.flatMap((page, i) => [
      ...(i > 0 ? [line(0, HEIGHT * i, WIDTH, HEIGHT * i, 0.1, GREY)] : []),
      ...moved(page.items, 0, HEIGHT * i),
    ]),
  }
}

function withoutRoute({ tag, problem }: SolvedRun, unit: LengthUnit): PaperItem[] {
  const why = problem ? inUnit(problem.sentence, unit) : 'no route'
  const text = fitted(`${tag}   not drawn: ${why}`, WIDTH - 2 * EDGE, 4.5)
  return [words(EDGE, EDGE + 4, text.text, text.size, { bold: true, ink: RED })]
}
