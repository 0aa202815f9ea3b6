/** What nothing that is printed or shown stands in for. */
export const NOT_FOR_PRESSURE: readonly string[] = [
  'This does not cover pressure. Rating and testing belong to qualified, licensed people. Never loosen or bend a line under pressure.',
  'Local codes, the bender’s and the fitting maker’s instructions and licensed practice take precedence over anything shown here.',
]

/** The usual cautions at a manual bench bender, for screen and sheet (common practice, no source). */
export const CAUTIONS: readonly string[] = [
  'Eye protection on; gloves only as your shop’s rules allow.',
  'Hands off the pinch points between die, clamp and follower.',
  'A loaded crank stores energy: never let go of it, ease it back.',
  'Keep the swing of the tube clear of people.',
  ...NOT_FOR_PRESSURE,
]
