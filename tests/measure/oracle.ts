/** One line of the table "what was checked against what". */
export interface Oracle {
  /** The property, as a sentence without its end: "the swept clearance is that of dense sampling". */
  readonly property: string
  /** Random cases that were looked at in this run. */
  readonly cases: number
  /** The worst difference found, with its unit: "0.041 mm", or "none" where cases can only agree or not. */
  readonly worst: string
}
