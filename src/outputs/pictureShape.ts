/** A point of a small picture, in its own units, y down. */
export type Point = readonly [x: number, y: number]

/**
 * One shape of a small picture that screen and paper draw from the same description, each in inks of its own. `Part`
 * says what the shape is.
 */
export type PictureShape<Part extends string> =
  | {
      readonly kind: 'line'
      readonly part: Part
      readonly points: readonly Point[]
      /** Line width, in the picture's units. */
      readonly width: number
      /** Strokes and gaps, in the picture's units; whole when left out. */
      readonly dash?: readonly [number, number]
    }
  /** A closed outline, filled. */
  | { readonly kind: 'area'; readonly part: Part; readonly points: readonly Point[] }
  | {
      readonly kind: 'text'
      readonly x: number
      /** Of the baseline. */
      readonly y: number
      readonly text: string
      readonly anchor: 'start' | 'middle' | 'end'
      readonly bold: boolean
    }

/** A picture's left, top, width and height, in its own units. */
export type PictureBox = readonly [number, number, number, number]
