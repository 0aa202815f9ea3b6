import type { Clearances, SkidDocument } from './types.ts'

/**
 * Gaps a new document asks for between outsides, mm. Common practice, no source: a finger's width between tubes,
 * room to wrap a hand or a clip round a tube beside equipment, and a tube that is not stepped on. The user's to change.
 */
export const DEFAULT_CLEARANCES: Clearances = {
  tube: 10,
  equipment: 25,
  structure: 15,
  fitting: 5,
  floor: 50,
  keepOut: 0,
}

/** A document of this name with nothing in it. */
export function emptyDocument(name: string): SkidDocument {
  return {
    format: 'dogleg-skid',
    version: 1,
    name,
    note: '',
    invented: false,
    fittings: [],
    solids: [],
    benders: [],
    runs: [],
    clearances: DEFAULT_CLEARANCES,
    acceptances: [],
  }
}
