import { type Part, samePart, sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'

/** The shared selection and hover, and what a row or a shape needs to take part in them. */
export function usePart() {
  const selection = useSession(state => state.selection)
  const hover = useSession(state => state.hover)
  return {
    isSelected: (part: Part) => samePart(part, selection),
    /** Class names, with a space before each. */
    marks: (part: Part) =>
      `${samePart(part, selection) ? ' selected' : ''}${samePart(part, hover) ? ' hovered' : ''}`,
    pointer: (part: Part) => ({
      onPointerEnter: () => sessionStore.getState().setHover(part),
      onPointerLeave: () => {
        const session = sessionStore.getState()
        if (samePart(session.hover, part)) session.setHover(null)
      },
    }),
  }
}
