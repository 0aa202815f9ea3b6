import { writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { denseSkid } from './denseSample.ts'
import { thirtyRuns } from './panelSample.ts'
import { SKID_MODEL, skidModel } from './skidModel.ts'
import { algaeManifold, cannotBeMade, firstRoute, inchSkid, twoBends } from './smallSamples.ts'

/** The samples by file name. `tsx tests/samples/make.ts` writes them; a test fails when the files differ. */
export const MADE: Readonly<Record<string, () => SkidDocument | Promise<SkidDocument>>> = {
  'first-route': firstRoute,
  'two-bends': twoBends,
  'inch-skid': inchSkid,
  'cannot-be-made': cannotBeMade,
  'algae-manifold': algaeManifold,
  'thirty-runs': thirtyRuns,
  'dense-skid': denseSkid,
}

/** The model files that samples lie beside, by file name. */
export const MADE_MODELS: Readonly<Record<string, () => Promise<Uint8Array<ArrayBuffer>>>> = {
  [SKID_MODEL]: skidModel,
}

const FOLDER = resolve(import.meta.dirname, '../../sample-routes')
export const sampleFile = (key: string): string => resolve(FOLDER, `${key}.json`)
export const sampleModelFile = (name: string): string => resolve(FOLDER, name)

if (process.argv[1] === import.meta.filename) {
  for (const [name, make] of Object.entries(MADE_MODELS)) writeFileSync(sampleModelFile(name), await make())
  for (const [key, make] of Object.entries(MADE)) writeFileSync(sampleFile(key), writeDocument(await make()))
}
