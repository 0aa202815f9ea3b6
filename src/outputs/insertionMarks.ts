import type { Layout } from '../bender/layOut.ts'
import type { TubeFace } from '../solve/finishedTube.ts'
import { trimEnd } from './benchLayout.ts'

/**
 * Where the insertion marks go on the finished tube, as one sentence for sheet and screen; null where nothing goes into
 * a fitting.
 *
 * @param layout of the bench, whose trim comes off the end that trails first; null when nothing is laid out.
 * @param length writes a length with its unit.
 */
export function insertionMarkWords(
  faces: readonly TubeFace[],
  layout: Pick<Layout, 'steps' | 'trim'> | null,
  length: (mm: number) => string,
): string | null {
  if (faces.length === 0) return null
  const trimmed = layout !== null && layout.trim > 0 ? trimEnd(layout) : null
  const marks = faces.map(
    ({ end, fromEnd }) =>
      `${length(fromEnd)} from end ${end}${end === trimmed ? ' (once the trim is cut off)' : ''}`,
  )
  return `Insertion mark${faces.length === 1 ? '' : 's'} on the finished tube: ${marks.join(' and ')}. The port’s face comes here; push the tube in to this mark.`
}
