import type { BenderKind } from './benderKind.ts'

/**
 * The arm carries die and clamp and draws the front round; the tail is fed straight past the follower. To the arm the
 * stretch in the clamp and the stretch wrapped on the die are not measured, to the housing they are. The front springs
 * back the way it came.
 */
export const rotaryDraw: BenderKind = {
  words: 'rotary draw',
  held: 'what the arm holds while bending: the stretch in the clamp and the stretch on the die',
  armTakes: 'front',
  outAfterEachBend: null,
  bendingJobs: ({ housing, arm, front, aheadOfClamp, stock, behind, wrapped, motions, job, passing }) => [
    job('front', front, housing, motions.swing),
    job('front', aheadOfClamp, arm, motions.still),
    job('tail', behind, housing, motions.feed),
    job('tail', behind, arm, motions.wrap),
    job('tail', wrapped, housing, motions.still, false),
    job('tail', stock, housing, motions.still, false),
    ...passing(arm),
  ],
}
