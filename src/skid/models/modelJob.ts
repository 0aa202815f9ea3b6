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
      readonly serial: number
      /** Handed over: post it in the list of transfers. */
      readonly bytes: Uint8Array<ArrayBuffer>
      readonly fileName: string
    }
  | {
      readonly kind: 'trees'
      readonly serial: number
      readonly unitMm: number
      readonly up: Model['up']
    }

/** Every answer carries the serial of its request; progress comes before the answer. */
export type ModelAnswer = { readonly serial: number } & (
  | { readonly kind: 'progress'; readonly stage: string; readonly done: number | null }
  /** A copy of the parts to draw; the worker keeps its own for `trees`. */
  | { readonly kind: 'read'; readonly read: ReadModel; readonly hash: string; readonly bytes: number }
  /** Twice the same trees, so that each of two threads can be handed its own without the page copying them. */
  | {
      readonly kind: 'trees'
      readonly trees: readonly ModelPartTree[]
      readonly spare: readonly ModelPartTree[]
      readonly drawing: ModelDrawing
    }
  | { readonly kind: 'failed'; readonly reason: string }
)

export type PostModel = (answer: ModelAnswer, transfer: ArrayBuffer[]) => void

/** Answers the requests of one worker; `post` gets every answer and what is handed over with it. Never throws. */
export function createModelJob(
  post: PostModel,
  options: ReadOptions,
): (request: ModelRequest) => Promise<void> {
  let known: ReadModel | null = null
  return async request => {
    const { serial } = request
    const tell = (stage: string, done: number | null) => post({ serial, kind: 'progress', stage, done }, [])
    try {
      if (request.kind === 'read') {
        known = null
        tell('Fingerprint', null)
        const hash = await modelHash(request.bytes)
        known = await readModel(request.bytes, request.fileName, tell, options)
        const read = copied(known)
        post({ serial, kind: 'read', read, hash, bytes: request.bytes.length }, buffersOfParts(read))
        return
      }
      if (!known) throw new ModelError('trees: found no file read before; wanted "read" first')
      const trees = modelTrees(known, request.unitMm, request.up, (done, total) =>
        tell('Sorting triangles', done / total),
      )
      const spare = trees.map(copiedTree)
      const drawing = modelDrawing(known, request.unitMm, request.up)
      const drawn = [own(drawing.positions), own(drawing.indices)]
      post({ serial, kind: 'trees', trees, spare, drawing }, [
        ...buffersOfTrees(trees),
        ...buffersOfTrees(spare),
        ...drawn,
      ])
    } catch (error) {
      post({ serial, kind: 'failed', reason: error instanceof Error ? error.message : String(error) }, [])
    }
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
