import { escapedInJson } from '../document/visibleText.ts'

/** What is there to be written in any unit; its text in mm stands beside it. */
const LEFT_OUT: ReadonlySet<string> = new Set(['sentence', 'sentences'])

/**
 * Places in a run: of a bend, of a vertex among the points, of a finding's straight, bend, leg or point, of a part of
 * the tube. Inside the program they count from 0; whoever reads them, person or program, has them from 1 at end A.
 */
const PLACES: ReadonlySet<string> = new Set(['bend', 'vertex', 'index'])

/**
 * Data as JSON for programs, with every digit. What a finding says stands in it once: its message, in mm. Bends,
 * straights, legs and points are counted from 1 at end A (which is point 1), as in every text.
 */
export const jsonText = (data: unknown): string =>
  `${escapedInJson(
    JSON.stringify(
      data,
      (key, value) =>
        LEFT_OUT.has(key) ? undefined : PLACES.has(key) && typeof value === 'number' ? value + 1 : value,
      2,
    ),
  )}\n`
