/** The usual cautions at a manual bench bender, for screen and sheet (common practice, no source). */
export const TAKE_CARE: readonly string[] = [
  'Gloves and glasses.',
  'Hands off the pinch points between die, clamp and follower.',
  'A loaded crank stores energy: never let go of it, ease it back.',
  'Keep the swing of the tube clear of people.',
  'Nothing here is about pressure: rating and test are for those licensed to judge them. Never loosen or bend a line under pressure.',
  'Local codes, the bender’s and the fitting maker’s instructions and licensed practice come before anything that is shown here.',
]
