const WORDS: ReadonlyMap<string, string> = new Map([
  ['tooFewPoints', 'too few points'],
  ['notFinite', 'a point is not finite'],
  ['coincidentPoints', 'two points in one place'],
  ['reversal', 'route turns back on itself'],
  ['badClr', 'CLR is not usable'],
  ['missingFitting', 'fitting is missing'],
  ['routeChecks', 'route has no solution'],
  ['legOverrun', 'leg too short for its bends'],
  ['straightClamp', 'straight too short for the clamp'],
  ['straightFollower', 'straight shorter than the follower'],
  ['fittingStraight', 'straight too short for the nut'],
  ['frontHeld', 'front too short to be held'],
  ['tailHeld', 'tail too short to be held'],
  ['portAxis', "leg off the port's axis"],
  ['portInBody', 'port inside a body'],
  ['portOd', 'tube does not fit the port'],
  ['odNotInTooling', 'no tooling for this OD'],
  ['clrNotInTooling', 'no die of this CLR'],
  ['angleBeyondStop', 'angle beyond the stop'],
  ['springbackUnknown', 'springback not known'],
  ['springbackImplausible', 'springback not plausible'],
  ['noBend', 'point is not a bend'],
  ['smallBend', 'bend too small to make'],
  ['tubeBore', 'tube has no bore'],
  ['clrTooSmall', 'CLR too small for the tube'],
  ['benderChecks', 'bender not checked'],
  ['housingOrder', 'order of the bends matters'],
  ['supportOffTube', 'support off the tube'],
  ['supportInBend', 'support in a bend'],
  ['supportSpan', 'span between supports too long'],
  ['catalogueChanged', 'differs from the table'],
  ['clash', 'clash'],
  ['selfClash', 'clash with itself'],
  ['tooClose', 'too close'],
  ['clearanceNotChecked', 'clearance not checked'],
  ['modelLeftOut', 'parts of a model left out'],
  ['modelPartGone', 'part no longer in its model'],
  ['housingHold', 'cannot be set up in this order'],
  ['housingClash', 'hits the bender'],
  ['housingNotChecked', 'bender motions not checked'],
])

/** A rule's name as a heading in plain words; a rule of another part of the program is read off its own name. */
export const ruleWords = (rule: string): string =>
  WORDS.get(rule) ?? rule.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()

/** Every rule that has words, for lists and legends. */
export const KNOWN_RULES: readonly string[] = [...WORDS.keys()]
