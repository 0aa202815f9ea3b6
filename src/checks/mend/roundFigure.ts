import type { LengthUnit } from '../../document/quantity.ts'

/** Steps of lengths that a person would type, mm: fine ones for short ways, coarser from `from` mm on. */
const STEPS: Record<LengthUnit, { readonly fine: number; readonly coarse: number; readonly from: number }> = {
  mm: { fine: 0.5, coarse: 1, from: 10 },
  in: { fine: 25.4 / 100, coarse: 25.4 / 20, from: 25.4 },
  fraction: { fine: 25.4 / 32, coarse: 25.4 / 32, from: 25.4 },
}

/** What separates neighbouring round figures at `mm`, mm > 0. */
export const roundStep = (mm: number, unit: LengthUnit): number => {
  const { fine, coarse, from } = STEPS[unit]
  return mm < from ? fine : coarse
}

/** The least round figure not below `mm` (≥ 0): 0.5 mm, 0.01 in or 1/32 in; 1 mm from 10 mm, 0.05 in from 1 in on. */
export function roundedUp(mm: number, unit: LengthUnit): number {
  const step = roundStep(mm, unit)
  // The slack is for figures that are round already but for the rounding of a sum.
  return Math.ceil(mm / step - 1e-9) * step
}
