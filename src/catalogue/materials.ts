import table from '../../shared/materials.json' with { type: 'json' }

/** Room-temperature figures for weight and springback estimates; never for pressure design. */
export interface Material {
  readonly id: string
  readonly name: string
  /** g/cm³ */
  readonly density: number
  /** Young's modulus, GPa. */
  readonly modulus: number
  /** Least yield strength, MPa. */
  readonly yield: number
  readonly bendNote: string
  readonly source: string
}

export const MATERIALS: readonly Material[] = table.materials

/** The material with this id, or null: a run's material may also be the user's own word. */
export const materialOf = (id: string): Material | null => MATERIALS.find(m => m.id === id) ?? null

/** Mass of tube per metre, kg/m: the annulus π·(OD − t)·t times density. mm in, g/cm³ from the table. */
export const massPerMetre = (od: number, wall: number, material: Material): number =>
  (Math.PI * (od - wall) * wall * material.density) / 1000
