import type { Springback, Tooling } from '../document/types.ts'
import { DEG } from '../geometry/vec3.ts'
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

export interface TestBendResult {
  /** Commanded less settled angle, degrees. */
  readonly springback: number
  /** Centre-line radius of the settled bend, mm. */
  readonly clr: number
  /** From the start of bend back to the mark, towards the tail, mm. */
  readonly referenceOffset: number
  /** Legs together less the stock, mm. */
  readonly gain: number
}

/**
 * Springback, effective CLR and reference offset from one test piece.
 * Gain = leg A + leg B − stock = (2·tan(θ/2) − θ)·CLR with the angle that stayed: (2 − π/2)·CLR at 90°.
 * Start of bend = leg A − CLR·tan(θ/2); offset = mark − start.
 * @throws BenchError when a figure is no length or angle, the angle is not within 60°–120°, or there is no gain.
 */
export function readTestBend(piece: TestPiece): TestBendResult {
  for (const [what, v] of Object.entries(piece))
    if (!(Number.isFinite(v) && v > 0)) throw new BenchError(`test bend: ${what}`, `${v}`, 'a figure above 0')
  if (piece.measured < 60 || piece.measured > 120)
    throw new BenchError(
      'test bend: measured angle',
      `${piece.measured}°`,
      '60°–120°: flatter bends hardly show the radius',
    )
  const theta = piece.measured * DEG
  const gain = piece.legA + piece.legB - piece.stock
  if (gain <= 0) throw new BenchError('test bend: gain', `${gain} mm`, 'legs together longer than the stock')
  const clr = gain / (2 * Math.tan(theta / 2) - theta)
  return {
    springback: piece.dial - piece.measured,
    clr,
    referenceOffset: piece.mark - (piece.legA - clr * Math.tan(theta / 2)),
    gain,
  }
}

/** The tooling with what the test bend showed; its CLR is then a settled one. */
export const toolingAfter = (tooling: Tooling, result: TestBendResult): Tooling => ({
  ...tooling,
  clr: result.clr,
  clrMeasured: 'settled',
  referenceOffset: result.referenceOffset,
})

/** A springback record from the one piece: a fixed offset, valid at its own angle. */
export const springbackAfter = (material: string, piece: TestPiece): Springback => ({
  material,
  offset: piece.dial - piece.measured,
  perDegree: 0,
  range: [piece.measured, piece.measured],
})
