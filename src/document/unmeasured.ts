import type { Bender, Tooling, UnmeasuredFigure } from './types.ts'

/** Every figure of a tooling that may not be measured yet, and its name. */
export const UNMEASURED_WORDS: Readonly<Record<UnmeasuredFigure, string>> = {
  clampGrip: 'clamp grip',
  followerLength: 'follower length',
  referenceOffset: 'reference offset',
  maxAngle: 'stop',
}

/** True when no figure of the tooling is still to be measured: only then anything is worked out with it. */
export const isMeasured = (tooling: Tooling): boolean => (tooling.notMeasured ?? []).length === 0

/** "clamp grip and stop": what of a tooling is still to be measured; '' when nothing is. */
export function unmeasuredWords({ notMeasured = [] }: Tooling): string {
  const names = (Object.keys(UNMEASURED_WORDS) as UnmeasuredFigure[])
    .filter(figure => notMeasured.includes(figure))
    .map(figure => UNMEASURED_WORDS[figure])
  const last = names.pop() ?? ''
  return names.length === 0 ? last : `${names.join(', ')} and ${last}`
}

/** The tooling with one of these figures measured, mm or degrees. */
export function withMeasured(tooling: Tooling, figure: UnmeasuredFigure, value: number): Tooling {
  const { notMeasured = [], ...rest } = tooling
  const left = notMeasured.filter(f => f !== figure)
  const measured = { ...rest, [figure]: value }
  return left.length === 0 ? measured : { ...measured, notMeasured: left }
}

/** Why nothing is worked out with a tooling that is not measured, for a sentence. */
export function notMeasured(bender: Bender, tooling: Tooling): string {
  const names = unmeasuredWords(tooling)
  return `the ${names} of ${bender.name}, tooling ${tooling.id}, ${names.includes(' and ') ? 'are' : 'is'} not measured`
}
