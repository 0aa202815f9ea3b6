import type { Tooling } from '../../src/document/types.ts'
import type { Making } from '../../src/solve/making.ts'
import { PLAIN_FRAME, type Rows, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { SolvedRun } from '../../src/solve/types.ts'

export interface RandomRun {
  readonly run: SolvedRun
  readonly tooling: Tooling
}

export interface RunExtras {
  readonly insertionA: number
  readonly insertionB: number
  readonly trim: number
}

/** A solved run from straights, angles and rotations; throws when they make no route. */
export function runFromRows(rows: Rows, clr: number, extras: RunExtras): SolvedRun {
  const points = rowsToPoints(rows, clr, PLAIN_FRAME)
  const ids = points.map((_, i) => `p${i}`)
  const solved = solveRoute(points, ids, clr)
  if (!solved.ok) throw new Error(solved.problem.message)
  const { insertionA, insertionB, trim } = extras
  return {
    runId: 'r',
    tag: 'R-1',
    route: solved.route,
    problem: null,
    insertionA,
    insertionB,
    trim,
    stretch: solved.route.bends.map(() => 0),
    cutLength: solved.route.developedLength + insertionA + insertionB + trim,
  }
}

/** The same route with the bends that come out of a die. */
export function madeRun(run: SolvedRun, making: Making): SolvedRun {
  const solved = solveRoute(run.route!.points, run.route!.pointIds, making.clr)
  if (!solved.ok) throw new Error(solved.problem.message)
  const stretch = solved.route.bends.map(b => making.stretch(b.angle))
  const whole = solved.route.developedLength + run.insertionA + run.insertionB + run.trim
  return { ...run, route: solved.route, stretch, cutLength: stretch.reduce((length, s) => length - s, whole) }
}

export const toolingFor = (od: number, clr: number, referenceOffset = 0): Tooling => ({
  id: 't',
  od,
  clr,
  clrMeasured: 'settled',
  clampGrip: 2 * od,
  followerLength: 2 * od,
  referenceOffset,
  maxAngle: 190,
})

/** A legal run with `bends` bends and its tooling; `next` gives numbers in [0, 1). */
export function randomRun(next: () => number, bends: number, od = 6 + 14 * next()): RandomRun {
  const clr = od * (2.5 + next())
  const between = (low: number, high: number) => low + (high - low) * next()
  const straights = Array.from({ length: bends + 1 }, () => between(2.5 * od, 300))
  const rows = {
    straights,
    bends: Array.from({ length: bends }, (_, k) => ({
      angle: between(3, 175),
      rotation:
        k === 0 ? null : next() < 0.2 ? [0, 90, -90, 180][Math.floor(next() * 4)]! : between(-180, 180),
    })),
  }
  const trim = next() < 0.5 ? 0 : between(0, 30)
  return {
    run: runFromRows(rows, clr, { insertionA: between(0, 20), insertionB: between(0, 20), trim }),
    tooling: toolingFor(od, clr, between(-10, 10)),
  }
}

/** No symmetry that could hide a sign: unequal legs, angles and turns. */
export function lopsidedRun(): RandomRun {
  const rows = {
    straights: [60, 110, 75, 140, 90],
    bends: [
      { angle: 35, rotation: null },
      { angle: 80, rotation: 50 },
      { angle: 110, rotation: -75 },
      { angle: 60, rotation: 130 },
    ],
  }
  return {
    run: runFromRows(rows, 36, { insertionA: 9, insertionB: 14, trim: 5 }),
    tooling: toolingFor(12, 36, 3),
  }
}

/** The items in a random order. */
export function shuffled<T>(next: () => number, items: readonly T[]): T[] {
  const out = [...items]
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(next() * (i + 1))
    ;[out[i], out[j]] = [out[j]!, out[i]!]
  }
  return out
}
