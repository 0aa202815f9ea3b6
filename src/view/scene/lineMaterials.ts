import type { Color } from 'three'
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js'

/** How lines look: their width in px, and whether they are seen through whatever is in front. */
export interface LineLook {
  readonly colour: Color
  readonly width: number
  readonly onTop: boolean
  readonly opacity: number
}

/** Kept for good, as those of tubes: with the last one goes the program, and making it anew at each move takes longest of all. */
const kept = new Map<string, LineMaterial>()

export function lineMaterial({ colour, width, onTop, opacity }: LineLook): LineMaterial {
  const key = `${colour.getHexString()} ${width} ${onTop} ${opacity}`
  let known = kept.get(key)
  if (!known) {
    known = new LineMaterial({ linewidth: width, depthTest: !onTop, transparent: true, opacity })
    known.color = colour
    kept.set(key, known)
  }
  return known
}
