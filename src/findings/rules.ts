/** By which check a rule is looked at: of the run alone, of the bender's motions, of what lies about, of a model's file. */
type Check = 'run' | 'bender' | 'clearance' | 'model'

interface RuleFacts {
  /** The rule as a heading, in plain words. */
  readonly words: string
  readonly check: Check
}

/** Every rule that a finding can have. */
export const RULES = {
  tooFewPoints: { words: 'too few points', check: 'run' },
  notFinite: { words: 'a point is not finite', check: 'run' },
  coincidentPoints: { words: 'two points in one place', check: 'run' },
  reversal: { words: 'route turns back on itself', check: 'run' },
  badClr: { words: 'CLR is not usable', check: 'run' },
  missingFitting: { words: 'fitting is missing', check: 'run' },
  routeChecks: { words: 'route has no solution', check: 'run' },
  legOverrun: { words: 'leg too short for its bends', check: 'run' },
  straightClamp: { words: 'straight too short for the clamp', check: 'run' },
  straightFollower: { words: 'straight shorter than the follower', check: 'run' },
  fittingStraight: { words: 'straight too short for the nut', check: 'run' },
  frontHeld: { words: 'front too short to be held', check: 'run' },
  tailHeld: { words: 'tail too short to be held', check: 'run' },
  portAxis: { words: "leg off the port's axis", check: 'run' },
  portInBody: { words: 'port inside a body', check: 'clearance' },
  portOd: { words: 'tube does not fit the port', check: 'run' },
  odNotInTooling: { words: 'no tooling for this OD', check: 'run' },
  clrNotInTooling: { words: 'no die of this CLR', check: 'run' },
  angleBeyondStop: { words: 'angle beyond the stop', check: 'run' },
  springbackUnknown: { words: 'springback not known', check: 'run' },
  springbackImplausible: { words: 'springback not plausible', check: 'run' },
  stretchImpossible: { words: 'stretch longer than the arc', check: 'run' },
  noBend: { words: 'point is not a bend', check: 'run' },
  smallBend: { words: 'bend too small to make', check: 'run' },
  tubeBore: { words: 'tube has no bore', check: 'run' },
  clrTooSmall: { words: 'CLR too small for the tube', check: 'run' },
  benderChecks: { words: 'bender not checked', check: 'run' },
  housingOrder: { words: 'order of the bends matters', check: 'bender' },
  supportOffTube: { words: 'support off the tube', check: 'run' },
  supportInBend: { words: 'support in a bend', check: 'run' },
  supportSpan: { words: 'span between supports too long', check: 'run' },
  catalogueChanged: { words: 'differs from the table', check: 'run' },
  clash: { words: 'clash', check: 'clearance' },
  selfClash: { words: 'clash with itself', check: 'clearance' },
  tooClose: { words: 'too close', check: 'clearance' },
  clearanceNotChecked: { words: 'clearance not checked', check: 'clearance' },
  modelLeftOut: { words: 'parts of a model left out', check: 'model' },
  modelPartGone: { words: 'part no longer in its model', check: 'clearance' },
  housingHold: { words: 'cannot be set up in this order', check: 'bender' },
  housingClash: { words: 'hits the bender', check: 'bender' },
  housingNotChecked: { words: 'bender motions not checked', check: 'bender' },
} as const satisfies Record<string, RuleFacts>

export type Rule = keyof typeof RULES

export const ruleWords = (rule: Rule): string => RULES[rule].words

/** What an id begins with, as read from a file, in plain words; what no rule of ours is called is read off the name itself. */
export const idWords = (name: string): string =>
  Object.hasOwn(RULES, name)
    ? ruleWords(name as Rule)
    : name.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()

/** Whether it is about the tube in its bender: set-up, motions, the order of the bends. */
export const isOfBender = (rule: Rule): boolean => RULES[rule].check === 'bender'

/** Whether it is a gap between two things that is too small. */
export const isOfGap = (rule: Rule): boolean =>
  rule === 'clash' || rule === 'selfClash' || rule === 'tooClose'
