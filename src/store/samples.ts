import { readDocument } from '../document/readDocument.ts'
import type { Model, SkidDocument } from '../document/types.ts'

export interface Sample {
  readonly key: string
  readonly title: string
  readonly tells: string
}

/** In the order of the picker; the first one opens on a first visit. */
export const SAMPLES: readonly Sample[] = [
  {
    key: 'first-route',
    title: 'Blower to manifold',
    tells: 'One run, four bends between two ports; one straight is too short.',
  },
  { key: 'two-bends', title: 'Sample tap', tells: 'The smallest job: one run, two bends, nothing wrong.' },
  {
    key: 'inch-skid',
    title: 'Water-sampling skid, inch tube',
    tells: 'Five runs in 1/4 in and 3/8 in tube.',
  },
  {
    key: 'cannot-be-made',
    title: 'Cannot be made',
    tells: 'Five runs, each with a fault that names itself.',
  },
  { key: 'algae-manifold', title: 'Algae-feed manifold', tells: 'Eight runs off one manifold.' },
  {
    key: 'thirty-runs',
    title: 'Aeration panel',
    tells: 'Thirty runs in a dense skid: frame, vessel, manifolds, valves.',
  },
  {
    key: 'dense-skid',
    title: 'Feed-pump skid',
    tells: 'Twenty-eight runs round a model of a pump, a tank and a ladder; some touch.',
  },
]

const TEXTS = import.meta.glob<string>('../../sample-routes/*.json', { query: '?raw', import: 'default' })
/** Where the app has the model files that samples lie beside. */
const MODEL_URLS = import.meta.glob<string>('../../sample-routes/*.glb', { query: '?url', import: 'default' })

/**
 * Loads a sample, and keeps its models' files as if a person had given them.
 *
 * @throws Error when the key is unknown or the file is not a good document.
 */
export async function loadSample(key: string): Promise<SkidDocument> {
  const load = TEXTS[`../../sample-routes/${key}.json`]
  if (!load) throw new Error(`loadSample: found no sample "${key}"`)
  const read = readDocument(await load())
  if (!read.ok) {
    const first = read.errors[0]
    throw new Error(`loadSample: sample "${key}" is damaged: ${first?.message ?? 'no reason given'}`)
  }
  // Without its file a model is shown as missing, with its name: that is no reason to keep the document back.
  await Promise.allSettled(read.document.models.map(keepSampleModel))
  return read.document
}

async function keepSampleModel({ fileName, hash, bytes }: Model): Promise<void> {
  const load = MODEL_URLS[`../../sample-routes/${fileName}`]
  if (!load) throw new Error(`keepSampleModel: found no file "${fileName}" among the samples`)
  const [url, { modelFileOf }, { takeModelFile }, { retryModel }] = await Promise.all([
    load(),
    import('./modelFiles.ts'),
    import('./takeModelFile.ts'),
    import('./models.ts'),
  ])
  if (await modelFileOf(hash)) return
  const answer = await fetch(url)
  if (!answer.ok) throw new Error(`${fileName}: found ${answer.status}; wanted a file of the app`)
  const data = await answer.blob()
  if (data.size !== bytes) throw new Error(`${fileName}: found ${data.size} bytes; wanted ${bytes}`)
  await takeModelFile(hash, new File([data], fileName))
  // It may have been looked for and missed before.
  retryModel(hash)
}
