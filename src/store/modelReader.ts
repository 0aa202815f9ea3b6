import type { Model } from '../document/types.ts'
import type { ModelDrawing } from '../skid/models/modelDrawing.ts'
import type { ModelAnswer, ModelProgress, ModelRequest } from '../skid/models/modelJob.ts'
import type { ModelPartTree, ReadModel } from '../skid/models/modelTypes.ts'
import { workerClient } from '../workers/workerClient.ts'

export type Progress = ModelProgress
export interface ReadFile {
  readonly read: ReadModel
  readonly hash: string
  readonly bytes: number
}

/** The parts of a file in a unit and axis. */
export interface LoadedParts {
  readonly drawing: ModelDrawing
  /** In the order of the drawing's parts. */
  readonly trees: readonly ModelPartTree[]
  /** The same trees once more, for the worker that measures: taken out when they are handed over. */
  readonly spare: { trees: readonly ModelPartTree[] | null }
  readonly triangles: number
}

/** A file in the hands of a worker of its own. Both promises fail with a sentence that says why. */
export interface Reading {
  readonly file: Promise<ReadFile>
  /** The parts in a unit and axis, to be drawn and measured against. */
  load(unitMm: number, up: Model['up']): Promise<LoadedParts>
  /** Stops at once and gives the memory back; promises that are open never settle. */
  end(): void
}

/** Reads a model file in a worker of its own. */
export function readModelFile(file: Blob, fileName: string, onProgress: (p: Progress) => void): Reading {
  const client = workerClient<ModelRequest, ModelAnswer, ModelProgress>({
    start: () => new Worker(new URL('../workers/modelWorker.ts', import.meta.url), { type: 'module' }),
  })
  const ask = async (request: ModelRequest, transfer: Transferable[] = []): Promise<ModelAnswer> => {
    const ended = await client.ask(request, { transfer, progress: onProgress }).outcome
    if (ended.kind === 'answer') return ended.answer
    // Nobody waits for what was left.
    if (ended.kind === 'left') return new Promise(() => {})
    throw new Error(ended.reason)
  }
  const read = async (): Promise<ReadFile> => {
    onProgress({ stage: 'Fetching the file', done: null })
    const bytes = new Uint8Array(await file.arrayBuffer())
    const answer = await ask({ kind: 'read', bytes, fileName }, [bytes.buffer])
    if (answer.kind !== 'read') throw new Error(`readModelFile: found answer "${answer.kind}", wanted "read"`)
    return answer
  }
  return {
    file: read(),
    async load(unitMm, up) {
      const answer = await ask({ kind: 'trees', unitMm, up })
      if (answer.kind !== 'trees')
        throw new Error(`readModelFile: found answer "${answer.kind}", wanted "trees"`)
      const { trees, spare, drawing } = answer
      return { trees, spare: { trees: spare }, drawing, triangles: drawing.indices.length / 3 }
    },
    end: client.end,
  }
}
