import * as v from 'valibot'
import table from '../../shared/benders.json' with { type: 'json' }
import { benderSchema } from './readDocumentSchema.ts'
import type { Bender } from './types.ts'

/** A bender of the reference table, ready to be put into a document, and where its figures are from. */
export interface KnownBender {
  readonly bender: Bender
  readonly source: string
}

/** The benders of the reference table, checked as a file's are; all invented for the demo. */
export const KNOWN_BENDERS: readonly KnownBender[] = table.benders.map(({ source, ...bender }) => ({
  bender: v.parse(benderSchema, bender),
  source,
}))

/** The bender with this catalogue id, or null when the table has none. */
export const knownBender = (catalogueId: string): KnownBender | null =>
  KNOWN_BENDERS.find(k => k.bender.catalogueId === catalogueId) ?? null
