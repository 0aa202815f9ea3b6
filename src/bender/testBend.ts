import { formatAngle } from '../document/quantity.ts'
import { inMm, mm, type Sentence, say } from '../document/sentence.ts'
import type { Springback, Tooling } from '../document/types.ts'
import { withMeasured } from '../document/unmeasured.ts'
import { DEG } from '../geometry/vec3.ts'
import { askAboutAngle, askAboutDial } from './askAboutAngle.ts'
import { askAboutTooling } from './askAboutTooling.ts'
import { BenchError } from './benchError.ts'

/** What is read off one test piece; lengths mm, angles degrees. */
export interface TestPiece {
  readonly stock: number
  /** Dial reading under load. */
  readonly dial: number
  /** Angle that stayed; near 90. */
  readonly measured: number
  /** From the leading end to the vertex (centre line to centre line). */
  readonly legA: number
  /** From the vertex to the trailing end. */
  readonly legB: number
  /** Where the pencil mark was on the straight stock, from the leading end. */
  readonly mark: number
}

/** Where both legs are measured to: the crossing of the centre lines, or of the tube's outsides at the back of the bend. */
export type LegsTo = 'centre' | 'back'

export interface TestBendResult {
  /** Commanded less settled angle, degrees. */
  readonly springback: number
  /** Centre-line radius of the settled bend, mm; with the stretch that the tooling's record gives taken off the gain. */
  readonly clr: number
  /** From the start of bend back to the mark, towards the tail, mm. */
  readonly referenceOffset: number
  /** Legs together less the stock, mm. */
  readonly gain: number
}

/** Angles at which one test piece shows a radius, degrees: flatter bends hardly have a gain, sharper ones no corner. */
const SHOWS_RADIUS_DEG = [60, 120] as const

/**
 * A piece whose legs were taped to the back of the bend, with both legs to the crossing of the centre lines. The
 * outsides cross farther out by half an OD across each tube, that is OD/2 · tan(θ/2) along each leg.
 */
export function legsToCentre(piece: TestPiece, od: number): TestPiece {
  const less = (od / 2) * Math.tan((piece.measured * DEG) / 2)
  return { ...piece, legA: piece.legA - less, legB: piece.legB - less }
}

/** What keeps a piece from being read: where, what was found there and what is wanted. */
export interface PieceProblem {
  readonly place: string
  readonly found: Sentence
  readonly wanted: Sentence
}

type Tube = Pick<Tooling, 'od' | 'stretchAt90'>

/** Why a piece shows nothing, or null when it can be read. Legs to the centre line. */
export function testPieceProblem(piece: TestPiece, tube: Tube): PieceProblem | null {
  const no = (place: string, found: Sentence, wanted: Sentence): PieceProblem => ({ place, found, wanted })
  const names = { stock: 'stock', legA: 'leg A', legB: 'leg B', mark: 'mark' } as const
  for (const key of ['stock', 'legA', 'legB', 'mark'] as const)
    if (!(Number.isFinite(piece[key]) && piece[key] > 0))
      return no(names[key], say`${mm(piece[key])}`, say`a length above 0`)
  for (const key of ['dial', 'measured'] as const)
    if (!(Number.isFinite(piece[key]) && piece[key] > 0))
      return no(key, say`${formatAngle(piece[key])}°`, say`an angle above 0°`)
  const [low, high] = SHOWS_RADIUS_DEG
  if (piece.measured < low || piece.measured > high)
    return no(
      'measured',
      say`${formatAngle(piece.measured)}°`,
      say`${String(low)}°–${String(high)}°: flatter bends hardly show the radius`,
    )
  if (piece.mark >= piece.stock)
    return no(
      'mark',
      say`${mm(piece.mark, piece.stock)}`,
      say`one on the stock of ${mm(piece.stock, piece.mark)}`,
    )
  const gain = gainOf(piece, tube)
  if (gain <= 0)
    return no(
      'gain',
      say`legs together ${mm(Math.abs(gain))} shorter than the stock${(tube.stretchAt90 ?? 0) === 0 ? '' : ' and its stretch'}`,
      say`longer ones: check both legs and the stock`,
    )
  const clr = clrOf(piece, tube)
  if (clr <= tube.od / 2)
    return no(
      'gain',
      say`a CLR of ${mm(clr, tube.od / 2)}`,
      say`more than half the OD, ${mm(tube.od / 2, clr)}: check both legs and the stock`,
    )
  const tangent = clr * Math.tan((piece.measured * DEG) / 2)
  const short = (['legA', 'legB'] as const).find(leg => piece[leg] <= tangent)
  return short === undefined
    ? null
    : no(
        names[short],
        say`${mm(piece[short], tangent)}`,
        say`more than the ${mm(tangent, piece[short])} that the bend takes of it: the whole leg, from the end`,
      )
}

/** Legs less stock without the stretch on record, mm: what the radius alone gains. */
const gainOf = (piece: TestPiece, { stretchAt90 = 0 }: Tube): number =>
  piece.legA + piece.legB - piece.stock - (stretchAt90 * piece.measured) / 90

function clrOf(piece: TestPiece, tube: Tube): number {
  const theta = piece.measured * DEG
  return gainOf(piece, tube) / (2 * Math.tan(theta / 2) - theta)
}

/**
 * Springback, effective CLR and reference offset from one test piece.
 * Gain = leg A + leg B − stock = (2·tan(θ/2) − θ)·CLR + stretch with the angle that stayed: (2 − π/2)·CLR at 90°. One
 * piece cannot tell a larger radius from more stretch: the stretch is the tooling's own, in proportion to the angle.
 * Start of bend = leg A − CLR·tan(θ/2); offset = mark − start.
 * @throws BenchError with {@link testPieceProblem} when the piece shows nothing.
 */
export function readTestBend(piece: TestPiece, tube: Tube): TestBendResult {
  const problem = testPieceProblem(piece, tube)
  if (problem !== null)
    throw new BenchError(`test bend: ${problem.place}`, inMm(problem.found), inMm(problem.wanted))
  const clr = clrOf(piece, tube)
  return {
    springback: piece.dial - piece.measured,
    clr,
    referenceOffset: piece.mark - (piece.legA - clr * Math.tan((piece.measured * DEG) / 2)),
    gain: piece.legA + piece.legB - piece.stock,
  }
}

/** A radius this far from the record is more likely a slip of the tape than a worn die; a share of the CLR. No source. */
const CLR_OFF = 0.15

/** What of a test piece is asked about before it becomes the tooling's record: each contradicts the record, the other figures or the bender. */
export function askAboutTestBend(
  piece: TestPiece,
  result: TestBendResult,
  tooling: Tooling,
  known: Springback | null,
): Sentence[] {
  const off = Math.abs(result.clr / tooling.clr - 1) > CLR_OFF
  return [
    // A stop that is not measured holds nothing back but a whole turn.
    askAboutDial(piece.dial, (tooling.notMeasured ?? []).includes('maxAngle') ? 360 : tooling.maxAngle),
    askAboutAngle(piece, known ? [known] : []),
    off
      ? say`a CLR of ${mm(result.clr, tooling.clr)} where ${mm(tooling.clr, result.clr)} is on record: check both legs and the stock`
      : askAboutTooling(tooling, 'clr', result.clr),
    askAboutTooling({ od: tooling.od, clr: result.clr }, 'referenceOffset', result.referenceOffset),
  ].filter(s => s !== null)
}

/** The tooling with what the test bend showed; its CLR is then a settled one. */
export function toolingAfter(tooling: Tooling, result: TestBendResult): Tooling {
  const { clr, referenceOffset } = result
  return { ...withMeasured(tooling, 'referenceOffset', referenceOffset), clr, clrMeasured: 'settled' }
}

/** A springback record from the one piece: a fixed offset, valid at its own angle. */
export const springbackAfter = (material: string, piece: TestPiece): Springback => ({
  material,
  offset: piece.dial - piece.measured,
  perDegree: 0,
  range: [piece.measured, piece.measured],
})
