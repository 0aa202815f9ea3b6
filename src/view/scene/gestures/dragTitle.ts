import type { Axis } from '../pointLimits.ts'
import type { TypedLengths } from '../typedFields.ts'

/**
 * What a drag of a point does, in words: along the locked axis, or which coordinate the drag leaves alone and whether a
 * typed one takes its place.
 */
export const dragTitle = (name: string, still: Axis, lock: Axis | null, typed: TypedLengths): string =>
  lock
    ? `Move ${name} along ${lock}`
    : `Move ${name}, ${still} ${typed[still] === undefined ? 'stays' : 'as typed'}`
