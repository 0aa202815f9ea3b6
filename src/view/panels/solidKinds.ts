import type { SolidKind } from '../../document/types.ts'

export const KIND_NAMES: Record<SolidKind, string> = {
  equipment: 'Equipment',
  structure: 'Structure',
  fitting: 'Fitting body',
  floor: 'Floor',
  keepOut: 'Keep-out zone',
}
