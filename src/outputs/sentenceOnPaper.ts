import type { LengthUnit } from '../document/quantity.ts'
import { type InchFormat, lengthText, type Sentence } from '../document/sentence.ts'
import { NO_BREAK } from './paperFont.ts'

/** A sentence in the unit of the paper; no line ends within a length. */
export const sentenceOnPaper = (sentence: Sentence, unit: LengthUnit, format: InchFormat): string =>
  sentence
    .map(part => (typeof part === 'string' ? part : lengthText(part, unit, format).replaceAll(' ', NO_BREAK)))
    .join('')
