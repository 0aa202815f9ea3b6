/** Kinds of bender, as a document names them. What each does is in `bender/kinds`. */
export const BENDER_KINDS = ['rotaryDraw', 'compression'] as const
export type BenderKindName = (typeof BENDER_KINDS)[number]
