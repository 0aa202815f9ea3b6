import { createStore } from 'zustand/vanilla'
import type { SkidDocument } from '../document/types.ts'
import { bodiesOf } from '../skid/measurable.ts'
import { measureBetween } from '../skid/measureBetween.ts'
import type { MeshBody } from '../skid/parts.ts'
import { measureInWorker } from './clearance.ts'
import { solvedRuns } from './derived.ts'
import type { Pair } from './measureStore.ts'

type Measurement = ReturnType<typeof measureBetween>

/** Models of up to so many triangles are measured at once: within a picture. */
const AT_ONCE = 5_000
/** More answers than are on screen at a time. */
const MOST_KEPT = 24

interface Known {
  readonly document: SkidDocument
  readonly bodies: readonly MeshBody[]
  readonly answer: Measurement
}

/** Answers of the worker by pair, the newest last. */
export const measuredStore = createStore<{ readonly known: ReadonlyMap<string, Known> }>()(() => ({
  known: new Map(),
}))

interface Wish {
  readonly document: SkidDocument
  readonly bodies: readonly MeshBody[]
  readonly pair: Pair
}

/** What the worker measures now, and what it is to measure next: by pair, what was asked last. */
let underWay: (Wish & { readonly key: string }) | null = null
const wished = new Map<string, Wish>()

/**
 * Two things measured against each other, or null while a worker measures them: large models take up to some seconds
 * where thousands of their triangles are as near as each other. `measuredStore` changes when the answer is there.
 *
 * @param bodies of the document's models, the same list for as long as they are the same.
 */
export function measuredPair(
  document: SkidDocument,
  bodies: readonly MeshBody[],
  pair: Pair,
): Measurement | null {
  const [first, second] = pair
  const triangles = pair
    .flatMap(thing => (thing.kind === 'model' ? bodiesOf(bodies, thing.model) : []))
    .reduce((n, body) => n + body.tree.order.length, 0)
  if (triangles <= AT_ONCE) return measureBetween(document, solvedRuns(document), first, second, bodies)
  const key = JSON.stringify(pair)
  const known = measuredStore.getState().known.get(key)
  if (known?.document === document && known.bodies === bodies) return known.answer
  const isUnderWay = underWay?.key === key && underWay.document === document && underWay.bodies === bodies
  if (!isUnderWay) {
    wished.set(key, { document, bodies, pair })
    queueMicrotask(measureNext)
  }
  return null
}

function measureNext(): void {
  const [next] = wished
  if (underWay || !next) return
  const [key, { document, bodies, pair }] = next
  wished.delete(key)
  const asked = measureInWorker(document, ...pair)
  if (!asked) {
    keep(key, { document, bodies, answer: { refused: 'there is no worker to measure in' } })
    return
  }
  underWay = { key, document, bodies, pair }
  void asked.then(answer => {
    underWay = null
    keep(key, { document, bodies, answer })
    measureNext()
  })
}

function keep(key: string, answer: Known): void {
  const known = new Map(measuredStore.getState().known)
  known.delete(key)
  known.set(key, answer)
  for (const oldest of [...known.keys()].slice(0, Math.max(0, known.size - MOST_KEPT))) known.delete(oldest)
  measuredStore.setState({ known })
}

/** Forgets what nobody waits for any longer: the pointer has gone on. */
export function dropWish(pair: Pair): void {
  wished.delete(JSON.stringify(pair))
}
