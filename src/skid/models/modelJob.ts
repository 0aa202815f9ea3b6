import type { Model } from '../../document/types.ts'
import { type ModelDrawing, modelDrawing } from './modelDrawing.ts'
import { ModelError } from './modelError.ts'
import { modelHash } from './modelHash.ts'
import { modelTrees } from './modelTrees.ts'
import type { ModelPartTree, ReadModel } from './modelTypes.ts'
import { readModel } from './readModel.ts'
import type { ReadOptions } from './readOptions.ts'
import { buffersOfTrees, copiedTree } from './treeMemory.ts'

/**
 * What is asked of the model worker. One worker reads one file: `read` first, then `trees` as often as unit and axis
 * are tried. To cancel, end the worker: it holds nothing that outlives it.
 */
export type ModelRequest =
  | {
      readonly kind: 'read'
      /** Handed over: post it in the list of transfers. */
      readonly bytes: Uint8Array<ArrayBuffer>
      readonly fileName: string
    }
  | { readonly kind: 'trees'; readonly unitMm: number; readonly up: Model['up'] }

/** What is being done, in plain words, and how much of it is done, 0 … 1; null where nothing can tell. */
export interface ModelProgress {
  readonly stage: string
  readonly done: number | null
}

export type ModelAnswer =
  /** A copy of the parts to draw; the worker keeps its own for `trees`. */
  | { readonly kind: 'read'; readonly read: ReadModel; readonly hash: string; readonly bytes: number }
  /** Twice the same trees, so that each of two threads can be handed its own without the page copying them. */
  | {
      readonly kind: 'trees'
      readonly trees: readonly ModelPartTree[]
      readonly spare: readonly ModelPartTree[]
      readonly drawing: ModelDrawing
    }

interface Asking {
  progress(progress: ModelProgress): void
  handOver(buffers: readonly ArrayBuffer[]): void
}

export interface ModelJob {
  /** Fails with the reason where the file cannot be read. */
  readonly answer: (request: ModelRequest, asking: Asking) => Promise<ModelAnswer>
}

/** Answers the requests of one worker. */
export function createModelJob(options: ReadOptions): ModelJob {
  let known: ReadModel | null = null
  return {
    answer: async (request, { progress, handOver }) => {
      const tell = (stage: string, done: number | null) => progress({ stage, done })
      if (request.kind === 'read') {
        known = null
        tell('Fingerprint', null)
        const hash = await modelHash(request.bytes)
        known = await readModel(request.bytes, request.fileName, tell, options)
        const read = copied(known)
        handOver(buffersOfParts(read))
        return { kind: 'read', read, hash, bytes: request.bytes.length }
      }
      if (!known) throw new ModelError('trees: found no file read before; wanted "read" first')
      const trees = modelTrees(known, request.unitMm, request.up, (done, total) =>
        tell('Sorting triangles', done / total),
      )
      const spare = trees.map(copiedTree)
      const drawing = modelDrawing(known, request.unitMm, request.up)
      handOver([
        ...buffersOfTrees(trees),
        ...buffersOfTrees(spare),
        own(drawing.positions),
        own(drawing.indices),
      ])
      return { kind: 'trees', trees, spare, drawing }
    },
  }
}

const copied = (read: ReadModel): ReadModel => ({
  ...read,
  parts: read.parts.map(p => ({ ...p, positions: p.positions.slice(), indices: p.indices.slice() })),
})

const own = (array: { readonly buffer: ArrayBufferLike }): ArrayBuffer => array.buffer as ArrayBuffer

const buffersOfParts = (read: ReadModel): ArrayBuffer[] => [
  ...new Set(read.parts.flatMap(p => [own(p.positions), own(p.indices)])),
]
