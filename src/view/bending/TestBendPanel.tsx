import type { SkidDocument } from '../../document/types.ts'
import type { Programme } from './programme.ts'

export function TestBendPanel(_: { document: SkidDocument; programme: Programme }) {
  return null
}
