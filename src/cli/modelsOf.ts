import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type { Model, SkidDocument } from '../document/types.ts'
import { ModelError } from '../skid/models/modelError.ts'
import { modelHash } from '../skid/models/modelHash.ts'
import { modelTrees } from '../skid/models/modelTrees.ts'
import { type ModelPartTree, type ReadModel, treesKey } from '../skid/models/modelTypes.ts'
import { readModel } from '../skid/models/readModel.ts'
import { BadInput } from './badInput.ts'
import type { Asked, ModelFolder } from './command.ts'

/** The trees of the document's model files that were found, and why the others are not there; both by `treesKey`. */
export interface FoundModels {
  readonly trees: ReadonlyMap<string, readonly ModelPartTree[]>
  readonly why: ReadonlyMap<string, string>
}

/**
 * Finds and reads the document's model files in the folder that `--models` names, else beside the document: by name,
 * then by length, and always by what is in them.
 *
 * @throws BadInput when the folder that `--models` names cannot be looked into.
 */
export async function modelsOf(document: SkidDocument, { file, values, io }: Asked): Promise<FoundModels> {
  const trees = new Map<string, readonly ModelPartTree[]>()
  const why = new Map<string, string>()
  const asked = values['models']
  const folder = typeof asked === 'string' ? asked : dirname(file)
  if (document.models.length === 0 && asked === undefined) return { trees, why }
  const { files } = io
  const listed = files ? await listOf(files, folder, asked !== undefined) : []
  const read = new Map<string, ReadModel | string>()
  for (const model of document.models) {
    const key = treesKey(model)
    if (trees.has(key) || why.has(key)) continue
    const known = read.get(model.hash) ?? (files ? await readFound(files, folder, listed, model) : null)
    if (known === null) {
      if (listed.some(f => f.name === model.fileName))
        why.set(key, `is missing: the file of that name in ${folder} is a different one`)
      continue
    }
    read.set(model.hash, known)
    const made = typeof known === 'string' ? known : treesOf(known, model)
    if (typeof made === 'string') why.set(key, `cannot be read (${made})`)
    else trees.set(key, made)
  }
  return { trees, why }
}

async function listOf(files: ModelFolder, folder: string, asked: boolean) {
  try {
    return await files.list(folder)
  } catch (error) {
    if (!asked) return []
    throw new BadInput(
      `--models: found "${folder}", which cannot be read (${error instanceof Error ? error.message : error}); wanted a folder`,
    )
  }
}

/** What is in the model's file, why it cannot be read, or null when it is not in the folder. */
async function readFound(
  files: ModelFolder,
  folder: string,
  listed: readonly { readonly name: string; readonly bytes: number }[],
  model: Model,
): Promise<ReadModel | string | null> {
  const fitting = listed.filter(f => f.bytes === model.bytes)
  const byName = (f: { readonly name: string }) => (f.name === model.fileName ? 0 : 1)
  for (const { name } of fitting.toSorted((a, b) => byName(a) - byName(b))) {
    let bytes: Uint8Array<ArrayBuffer>
    try {
      bytes = await files.bytes(join(folder, name))
    } catch {
      continue
    }
    if ((await modelHash(bytes)) !== model.hash) continue
    try {
      return await readModel(bytes, model.fileName, () => {}, { stepKernel })
    } catch (error) {
      if (error instanceof ModelError) return error.message
      throw error
    }
  }
  return null
}

function treesOf(read: ReadModel, { unitMm, up }: Model): readonly ModelPartTree[] | string {
  try {
    return modelTrees(read, unitMm, up)
  } catch (error) {
    if (error instanceof ModelError) return error.message
    throw error
  }
}

const stepKernel = async (): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(
    await readFile(createRequire(import.meta.url).resolve('occt-import-js/dist/occt-import-js.wasm')),
  )
