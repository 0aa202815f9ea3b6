import { dot, scale, type Vec3 } from '../../geometry/vec3.ts'
import { documentStore } from '../../store/documentStore.ts'
import { lookStore, shownPanel, showPanel } from '../../store/lookStore.ts'
import { AXES, hideSection, type SectionState, sectionStore, showSection } from '../../store/sectionStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { sceneBounds } from '../scene/sceneBounds.ts'

/** A bench is laid out, not looked into: there the three are not at hand. */
const canLook = (): boolean => {
  if (sessionStore.getState().mode !== 'bending') return true
  sessionStore.getState().say('Section, Measure and Saved views work in Layout and Review.')
  return false
}

/** The middle of all that is drawn, mm. */
export function middleOfScene(): Vec3 {
  const { hiddenRuns, hiddenBodies } = sessionStore.getState()
  const { low, high } = sceneBounds(documentStore.getState().document, hiddenRuns, hiddenBodies)
  return scale([low[0] + high[0], low[1] + high[1], low[2] + high[2]], 0.5)
}

/** A plane square to an axis through the middle of everything. */
export function acrossAxis(squareTo: 'x' | 'y' | 'z', flipped = false): SectionState {
  const middle = middleOfScene()
  const axis = AXES[squareTo]
  // A figure a person would write; the plane has the whole skid to move through.
  const offset = Math.round(dot(middle, axis))
  const base = middle.map((m, k) => (axis[k] === 1 ? 0 : m)) as unknown as Vec3
  return { squareTo, base, axis, offset, flipped }
}

/** Cuts, as the last time or square to x through the middle, and folds out the panel; or makes everything whole. */
export function toggleSection(): void {
  if (!canLook()) return
  const { section, say } = sessionStore.getState()
  if (section) {
    hideSection()
    if (lookStore.getState().panel === 'section') showPanel(null)
    say('Section off.')
    return
  }
  showSection(sectionStore.getState().last ?? acrossAxis('x'))
  showPanel('section')
  say('Section on. The arrow keys move the plane.')
}

export function toggleMeasure(): void {
  if (canLook()) showPanel(shownPanel() === 'measure' ? null : 'measure')
}

export function toggleViews(): void {
  if (canLook()) showPanel(shownPanel() === 'viewpoints' ? null : 'viewpoints')
}
