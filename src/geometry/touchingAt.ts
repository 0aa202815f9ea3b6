/** What is shrunk by some mm draws back from another by at most this share of it: a box's corners along three axes. */
const DRAWS_BACK = Math.sqrt(3)
const STEPS = 80
/** mm */
const TOUCHING = 1e-9
/** A direction is read where the two are at least this far apart. mm */
const TOLD_APART = 1e-6

/** What two shapes are to each other once one is shrunk: `gap` mm ≥ 0, exactly 0 while they still overlap. */
export interface Apart {
  readonly gap: number
}

/**
 * How much two overlapping shapes have to be shrunk until they only touch, mm: less than `most`, at which `apart` gives
 * a gap above 0. The distance grows with the shrinking, so a step by distance over its largest growth never goes too
 * far; secants go faster, and where one goes too far it is halved back.
 *
 * @returns the amount, what `apart` gave nearest to it, and where it last told the two apart.
 */
export function touchingAt<T extends Apart>(
  apart: (by: number) => T,
  most: number,
  atMost: T,
): { readonly by: number; readonly at: T; readonly toldApart: T } {
  let [by, at, toldApart] = [most, atMost, atMost]
  let before: { by: number; gap: number } | null = null
  let overlapping = 0
  for (let step = 0; step < STEPS && at.gap > TOUCHING && by - overlapping > 3 * TOUCHING; step++) {
    const safe = Math.max(by - at.gap / DRAWS_BACK, overlapping)
    const secant: number = before
      ? by - (at.gap * (before.by - by)) / Math.max(before.gap - at.gap, 1e-300)
      : overlapping > 0
        ? (overlapping + safe) / 2
        : safe
    const next = secant > overlapping ? Math.min(secant, safe) : (overlapping + safe) / 2
    const found = apart(next)
    if (found.gap > 0) {
      before = { by, gap: at.gap }
      by = next
      at = found
      if (found.gap > TOLD_APART) toldApart = found
    } else {
      // A straight secant meets the very place: then a hair more shows the two apart, and all is told.
      const beyond = before && next + 2 * TOUCHING < by ? apart(next + 2 * TOUCHING) : null
      before = null
      overlapping = next
      if (beyond && beyond.gap > 0) {
        by = next + 2 * TOUCHING
        at = beyond
      }
    }
  }
  return { by, at, toldApart }
}
