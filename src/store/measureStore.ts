import { createStore } from 'zustand/vanilla'
import type { Vec3 } from '../geometry/vec3.ts'
import type { Thing } from '../skid/measurable.ts'

/** Two things measured against each other: kept as what they are, so that their figures follow the document. */
export type Pair = readonly [Thing, Thing]

export interface MeasureState {
  readonly first: Thing | null
  readonly second: Thing | null
  /** Newest first. */
  readonly kept: readonly Pair[]
  /** Of the pair that shows: what is drawn. */
  readonly drawn: { readonly from: Vec3; readonly to: Vec3; readonly text: string } | null
  /** Lines that show what the pointer would take, as pairs of points. */
  readonly hint: readonly Vec3[]
}

export const measureStore = createStore<MeasureState>()(() => ({
  first: null,
  second: null,
  kept: [],
  drawn: null,
  hint: [],
}))

const MOST_KEPT = 8
const same = (a: Pair, b: Pair) => JSON.stringify(a) === JSON.stringify(b)

/** The list with a pair on top, once. */
const withPair = (kept: readonly Pair[], pair: Pair): readonly Pair[] =>
  [pair, ...kept.filter(p => !same(p, pair))].slice(0, MOST_KEPT)

/** What the pointer took: the first of a new pair, or the second of the one begun. A whole pair is kept. */
export function takeThing(thing: Thing): void {
  const { first, second, kept } = measureStore.getState()
  if (!first || second) measureStore.setState({ first: thing, second: null })
  else measureStore.setState({ second: thing, kept: withPair(kept, [first, thing]) })
}

/** What was chosen in a field. */
export function chooseThing(side: 'first' | 'second', thing: Thing | null): void {
  measureStore.setState({ [side]: thing })
}

/** Puts the pair that shows into the list. */
export function keepPair(): void {
  const { first, second, kept } = measureStore.getState()
  if (first && second) measureStore.setState({ kept: withPair(kept, [first, second]) })
}

export function showPair([first, second]: Pair): void {
  measureStore.setState({ first, second })
}

export function forgetPair(pair: Pair): void {
  measureStore.setState(s => ({ kept: s.kept.filter(p => !same(p, pair)) }))
}

/** Escape: a pair begun or shown is dropped. False when there was none. */
export function dropPair(): boolean {
  const { first, second } = measureStore.getState()
  measureStore.setState({ first: null, second: null, drawn: null, hint: [] })
  return first !== null || second !== null
}
