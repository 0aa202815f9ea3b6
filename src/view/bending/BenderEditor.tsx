import type { Run, SkidDocument } from '../../document/types.ts'

export function BenderEditor(_: { document: SkidDocument; run: Run }) {
  return null
}
