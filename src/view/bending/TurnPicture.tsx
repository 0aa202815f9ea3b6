import { type TurnPicture as Described, TURN_TEXT } from '../../outputs/turnPicture.ts'
import { Picture } from './Picture.tsx'

/** The turn as the operator sees it from the tail. */
export function TurnPicture({ picture, says }: { picture: Described; says: string }) {
  return (
    <figure className="bending-turn">
      <Picture
        box={picture.box}
        shapes={picture.shapes}
        textSize={TURN_TEXT}
        label={`${says}. ${picture.inWords}`}
      />
      <figcaption>{picture.legend.join(' ')}</figcaption>
    </figure>
  )
}
