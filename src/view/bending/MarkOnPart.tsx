import type { OnPart } from '../../bender/onPart.ts'
import { BACK_TEXT, backPicture, howToMeasure } from '../../outputs/backPicture.ts'
import { Picture } from './Picture.tsx'

/** How the tape is held where a mark is measured from the back of a bend; nothing where it is measured from an end. */
export function MarkOnPart({ onPart, figure }: { onPart: OnPart; figure: string }) {
  const picture = backPicture(onPart, figure)
  if (picture === null) return null
  return (
    <figure className="bending-back">
      <Picture box={picture.box} shapes={picture.shapes} textSize={BACK_TEXT} label={picture.inWords} />
      <figcaption>{howToMeasure(onPart)}</figcaption>
    </figure>
  )
}
