/** Why someone lives with a finding, in the order of the choice; none of them is chosen beforehand. */
export const CATEGORIES = ['stays as built', 'until changed', 'agreed', 'other'] as const
export type Category = (typeof CATEGORIES)[number]

/**
 * Words of earlier files, and what they are read as. "low risk" was there without anyone having chosen it, so it says
 * nothing but that there is a reason.
 */
export const EARLIER_CATEGORIES = {
  'as built': 'stays as built',
  temporary: 'until changed',
  'low risk': 'other',
} as const satisfies Readonly<Record<string, Category>>
