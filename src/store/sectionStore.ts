import { createStore } from 'zustand/vanilla'
import { addScaled, dot, negate, type Vec3 } from '../geometry/vec3.ts'
import { sessionStore } from './sessionStore.ts'

/** What the plane is square to: an axis, a straight, a gap, or whatever a saved view had. */
export type SquareTo = 'x' | 'y' | 'z' | 'straight' | 'gap' | 'kept'

/** The section plane as its panel has it. The session holds what comes of it. */
export interface SectionState {
  readonly squareTo: SquareTo
  /** What the figure counts from, mm. */
  readonly base: Vec3
  /** Unit; the way in which the figure grows. */
  readonly axis: Vec3
  /** mm along `axis` from `base`. */
  readonly offset: number
  /** Cut away what lies behind the plane and not before it. */
  readonly flipped: boolean
}

/** The plane that was last shown, also while none is; null before the first. */
export const sectionStore = createStore<{ readonly last: SectionState | null }>()(() => ({ last: null }))

export const planeOf = ({ base, axis, offset, flipped }: SectionState): { at: Vec3; normal: Vec3 } => ({
  at: addScaled(base, axis, offset),
  normal: flipped ? negate(axis) : axis,
})

/** Shows the plane and remembers it. */
export function showSection(section: SectionState): void {
  sectionStore.setState({ last: section })
  sessionStore.getState().set({ section: planeOf(section) })
}

export function hideSection(): void {
  sessionStore.getState().set({ section: null })
}

export const AXES: Readonly<Record<'x' | 'y' | 'z', Vec3>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] }

/** A plane given by a point and what it cuts away, as the panel has it: along an axis where it is square to one. */
export function sectionFrom({ at, normal }: { readonly at: Vec3; readonly normal: Vec3 }): SectionState {
  for (const squareTo of ['x', 'y', 'z'] as const) {
    const axis = AXES[squareTo]
    const along = dot(axis, normal)
    if (Math.abs(along) < 1 - 1e-12) continue
    const offset = dot(at, axis)
    return { squareTo, base: addScaled(at, axis, -offset), axis, offset, flipped: along < 0 }
  }
  return { squareTo: 'kept', base: at, axis: normal, offset: 0, flipped: false }
}

/** Shows the plane of a saved view, or none. */
export function adoptSection(section: { readonly at: Vec3; readonly normal: Vec3 } | null): void {
  if (section) showSection(sectionFrom(section))
  else hideSection()
}
