import type { BenderKind } from './benderKind.ts'

/**
 * The housing carries die and clamp, and the arm's follower wraps the tail round the die. To the housing the stretch in
 * the clamp and the stretch on the die are not measured; to the arm the stock under the follower is not until it is
 * wrapped. The tail does not spring back the way it came, for no stock goes back with it, and it lies wrapped aside.
 */
export const compression: BenderKind = {
  words: 'compression',
  held: 'what is held while bending: the stretch in the clamp and the stretch on the die against the housing, the stretch under the follower against the arm',
  armTakes: 'tail',
  outAfterEachBend: 'a compression bender has the tube taken out after every bend',
  bendingJobs: ({ housing, arm, front, aheadOfClamp, behind, behindFed, wrapped, motions, job, passing }) => [
    job('front', aheadOfClamp, housing, motions.still),
    job('front', front, arm, motions.swing),
    job('tail', behind, housing, motions.wrap),
    job('tail', behind, arm, motions.feed),
    job('tail', wrapped, arm, motions.still, false),
    job('tail', behindFed, housing, motions.springBack),
    ...passing(housing),
  ],
}
