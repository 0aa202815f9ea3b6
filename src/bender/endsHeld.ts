import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import type { BenchSetup } from './housing.ts'

/** What there is to hold at one end of a run for the bend next to it; mm, insertion included. */
export interface EndHeld {
  /** Without trim: so it is where this end leads first. */
  readonly bare: number
  /** With the trim, which lies here where the other end leads first. */
  readonly trimmed: number
  /** What the clamp wants ahead of the die, where this end leads. */
  readonly clamp: number
  /** What the follower wants behind the die, where the other end leads. */
  readonly follower: number
}

/** Both ends of the run, A first. */
export function endsHeld({
  stock,
  tooling,
}: Pick<BenchSetup, 'stock' | 'tooling'>): readonly [EndHeld, EndHeld] {
  const of = (bare: number): EndHeld => ({
    bare,
    trimmed: bare + stock.trim,
    clamp: tooling.clampGrip,
    follower: tooling.followerLength,
  })
  return [of(stock.straights[0]!), of(stock.straights.at(-1)!)]
}

export const isLong = (length: number, wanted: number): boolean => length >= wanted - LENGTH_SLACK_MM

/** True when no order of several bends can hold the end: with all the trim it is too short for clamp and follower. */
export const isNeverHeld = ({ trimmed, clamp, follower }: EndHeld): boolean =>
  !isLong(trimmed, Math.min(clamp, follower))
