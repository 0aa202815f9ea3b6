import type { Mode } from '../../store/sessionStore.ts'

export const MODES: readonly { mode: Mode; label: string; title: string; keys: string }[] = [
  { mode: 'layingOut', label: 'Layout', title: 'Route tubes in 3D', keys: 'Alt+1' },
  { mode: 'bending', label: 'Bend', title: 'Make a tube at the bench, one step at a time', keys: 'Alt+2' },
  { mode: 'reviewing', label: 'Review', title: 'Go through the findings of all runs', keys: 'Alt+3' },
]
