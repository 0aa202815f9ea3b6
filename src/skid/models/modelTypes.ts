import type { Model } from '../../document/types.ts'
import type { TriangleTree } from '../../geometry/triangleTree.ts'

/** One part of a model as its file has it: the file's own units and axes, transforms of the file applied. */
export interface ModelPartMesh {
  /** See partKeys. Unique in the file; the same part has the same key in a later version of the file. */
  readonly key: string
  /** From the top of the file's tree down to the part; never empty. */
  readonly names: readonly string[]
  /** x, y, z of each vertex. */
  readonly positions: Float32Array | Float64Array
  /** Three vertex numbers a triangle. */
  readonly indices: Uint32Array
}

/** What reading a file gave. */
export interface ReadModel {
  readonly format: Model['format']
  /** Millimetres in one unit, where the file or its standard says so; null: must be asked. */
  readonly unitMm: number | null
  /** The axis that points up, where the file's standard says so; null: must be asked. */
  readonly up: 'y' | 'z' | null
  readonly parts: readonly ModelPartMesh[]
  /** Whole sentences: what was left out of the file and why (lines, points, triangles without area …). */
  readonly notes: readonly string[]
}

/** A part in the model's frame: mm, +z up, the file's origin at 0. Where the model stands is not in it. */
export interface ModelPartTree {
  readonly key: string
  readonly names: readonly string[]
  readonly tree: TriangleTree
}

/** Trees are the same for every model of the document with the same of these. */
export const treesKey = ({ hash, unitMm, up }: Pick<Model, 'hash' | 'unitMm' | 'up'>): string =>
  `${hash}|${unitMm}|${up}`
