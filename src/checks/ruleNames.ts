/** What each rule is called wherever findings are shown or printed. */
const NAMES: Readonly<Record<string, string>> = {
  angleBeyondStop: 'angle past the stop',
  benderChecks: 'bender checks',
  catalogueChanged: 'table has changed',
  clash: 'clash',
  clearanceNotChecked: 'clearance',
  clrNotInTooling: 'no die for this CLR',
  clrTooSmall: 'CLR too small',
  fittingStraight: 'straight at a fitting',
  legOverrun: 'leg overrun by its bends',
  noBend: 'point without a bend',
  odNotInTooling: 'no tooling for this OD',
  portAxis: 'off the port\u2019s axis',
  portOd: 'tube does not fit the port',
  routeChecks: 'route checks',
  selfClash: 'runs into itself',
  smallBend: 'bend too small to make',
  straightClamp: 'straight for the clamp',
  straightFollower: 'straight for the follower',
  tooClose: 'too close',
  tubeBore: 'no bore left',
}

/** The rule's name as words, lower case; a rule without a name reads as its id does: "fooBar" is "foo bar". */
export const ruleInWords = (rule: string): string =>
  NAMES[rule] ??
  rule
    .replace(/[-_.]+/g, ' ')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
