import type { Mode } from '../../store/sessionStore.ts'

export const MODES: readonly { mode: Mode; label: string; title: string; keys: string }[] = [
  { mode: 'layingOut', label: 'Laying out', title: 'Route tubes in 3D', keys: 'Alt+1' },
  { mode: 'bending', label: 'Bending', title: 'Make a tube at the bench, one step at a time', keys: 'Alt+2' },
  { mode: 'reviewing', label: 'Reviewing', title: 'Go through the findings of all runs', keys: 'Alt+3' },
]
