import { writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { thirtyRuns } from './panelSample.ts'
import { algaeManifold, cannotBeMade, firstRoute, inchSkid, twoBends } from './smallSamples.ts'

/** The samples by file name. `tsx tests/samples/make.ts` writes them; a test fails when the files differ. */
export const MADE: Readonly<Record<string, () => SkidDocument>> = {
  'first-route': firstRoute,
  'two-bends': twoBends,
  'inch-skid': inchSkid,
  'cannot-be-made': cannotBeMade,
  'algae-manifold': algaeManifold,
  'thirty-runs': thirtyRuns,
}

export const sampleFile = (key: string): string =>
  resolve(import.meta.dirname, `../../sample-routes/${key}.json`)

if (process.argv[1] === import.meta.filename)
  for (const [key, make] of Object.entries(MADE)) writeFileSync(sampleFile(key), writeDocument(make()))
