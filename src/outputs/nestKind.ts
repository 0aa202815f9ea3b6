/** One kind of stock a piece may be cut from. `room` counts the kerf as `nestOnStock` says. */
export interface NestKind {
  readonly room: number
  /** What opening one costs; remnants cost nothing. */
  readonly cost: number
  /** How many there are, or null when more can be bought. */
  readonly count: number | null
}
