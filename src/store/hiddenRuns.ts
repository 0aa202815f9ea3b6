/** Why runs are not drawn. One reason never touches what another hides. */
export interface HiddenBy {
  /** By hand, or as a saved view has it. */
  readonly hand: ReadonlySet<string>
  /** Every run but those isolated; null when none are. While it is there it stands in for what is hidden by hand. */
  readonly isolation: ReadonlySet<string> | null
  /** What the earlier version has otherwise, while that one alone is shown. */
  readonly comparison: ReadonlySet<string>
}

export const NOTHING_HIDDEN: HiddenBy = { hand: new Set(), isolation: null, comparison: new Set() }

/** Ids of the runs that are not drawn. */
export const hiddenRunsOf = ({ hand, isolation, comparison }: HiddenBy): ReadonlySet<string> =>
  new Set([...(isolation ?? hand), ...comparison])

/** With these runs hidden or shown by hand. Shown by hand is shown, whatever hid it. */
export function hiddenByHand(before: HiddenBy, ids: Iterable<string>, hide: boolean): HiddenBy {
  const hand = new Set(before.isolation ?? before.hand)
  const comparison = new Set(before.comparison)
  for (const id of ids) {
    if (hide) hand.add(id)
    else {
      hand.delete(id)
      comparison.delete(id)
    }
  }
  return before.isolation ? { ...before, isolation: hand, comparison } : { ...before, hand, comparison }
}
