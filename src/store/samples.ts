import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'

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
]

const TEXTS = import.meta.glob<string>('../../sample-routes/*.json', { query: '?raw', import: 'default' })

/** Loads a sample. @throws Error when the key is unknown or the file is not a good document. */
export async function loadSample(key: string): Promise<SkidDocument> {
  const load = TEXTS[`../../sample-routes/${key}.json`]
  if (!load) throw new Error(`loadSample: found no sample "${key}"`)
  const read = readDocument(await load())
  if (read.ok) return read.document
  const first = read.errors[0]
  throw new Error(`loadSample: sample "${key}" is damaged: ${first?.message ?? 'no reason given'}`)
}
