import type { Model } from '../document/types.ts'
import type { ModelDrawing } from '../skid/models/modelDrawing.ts'
import type { ModelAnswer, ModelRequest } from '../skid/models/modelJob.ts'
import type { ModelPartTree, ReadModel } from '../skid/models/modelTypes.ts'

/** What is being done, in plain words, and how much of it is done, 0 … 1; null where nothing can tell. */
export interface Progress {
  readonly stage: string
  readonly done: number | null
}
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
  const worker = new Worker(new URL('../modelWorker.ts', import.meta.url), { type: 'module' })
  let serial = 0
  const open = new Map<number, { take(answer: ModelAnswer): void; fail(error: Error): void }>()
  worker.onmessage = ({ data }: MessageEvent<ModelAnswer>) => {
    if (data.kind === 'progress') return onProgress({ stage: data.stage, done: data.done })
    const asked = open.get(data.serial)
    open.delete(data.serial)
    if (data.kind === 'failed') asked?.fail(new Error(data.reason))
    else asked?.take(data)
  }
  worker.onerror = event => {
    for (const { fail } of open.values())
      fail(new Error(event.message || 'the reader stopped: the browser may have run out of memory'))
    open.clear()
  }
  type Ask = ModelRequest extends infer R ? (R extends ModelRequest ? Omit<R, 'serial'> : never) : never
  const ask = (request: Ask, transfer: Transferable[] = []) =>
    new Promise<ModelAnswer>((take, fail) => {
      serial++
      open.set(serial, { take, fail })
      worker.postMessage({ ...request, serial } as ModelRequest, transfer)
    })
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
    end() {
      open.clear()
      worker.terminate()
    },
  }
}
