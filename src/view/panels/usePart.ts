import { type Part, samePart, sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'

/** The shared selection and hover, and what a row or a shape needs to take part in them. */
export function usePart() {
  const selection = useSession(state => state.selection)
  const hover = useSession(state => state.hover)
  const hoverWith = useSession(state => state.hoverWith)
  return {
    isSelected: (part: Part) => samePart(part, selection),
    /** Class names, with a space before each. */
    marks: (part: Part) =>
      `${samePart(part, selection) ? ' selected' : ''}${samePart(part, hover) || samePart(part, hoverWith) ? ' hovered' : ''}`,
    /** `other` is lit with it: the other party of what the row is about. */
    pointer: (part: Part, other: Part | null = null) => ({
      onPointerEnter: () => sessionStore.getState().setHover(part, other),
      onPointerLeave: () => {
        const session = sessionStore.getState()
        if (samePart(session.hover, part)) session.setHover(null)
      },
    }),
  }
}
