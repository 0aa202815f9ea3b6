import type { Model } from '../../src/document/types.ts'

/** A model of an STL file in mm that stands where its file has it, as a test wants it. */
export const sampleModel = (id: string, more: Partial<Model> = {}): Model => ({
  id,
  name: `Model ${id}`,
  fileName: `${id}.stl`,
  hash: '0'.repeat(64),
  bytes: 1,
  format: 'stl',
  unitMm: 1,
  up: 'z',
  at: [0, 0, 0],
  turn: [0, 0, 0],
  kind: 'equipment',
  fitting: null,
  parts: [],
  ...more,
})
