import { benderOf, fittingOf, toolingOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'

/** How much bare straight one place asks for. `null` length: it cannot be known yet, and `why` says so. */
export interface NeededStraight {
  /** mm, ≥ 0. */
  readonly length: number | null
  readonly why: string
}

/** What each straight of the run needs, end A first; one more than there are bends. */
export function neededStraights(document: SkidDocument, run: Run, bends: number): NeededStraight[] {
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  const unknown = bender ? `${bender.name} has no tooling for this tube` : 'no bender chosen'
  return Array.from({ length: bends + 1 }, (_, i) => {
    const asks: { length: number; why: string }[] = []
    for (const [end, at] of [
      [run.endA, 0],
      [run.endB, bends],
    ] as const) {
      const fitting = at === i ? fittingOf(document, end) : null
      if (fitting) asks.push({ length: fitting.straightNeeded, why: `nut and ferrules at ${fitting.name}` })
    }
    if (tooling && i > 0 && i < bends) {
      asks.push({ length: tooling.clampGrip, why: 'the clamp’s grip' })
      asks.push({ length: tooling.followerLength, why: 'the follower' })
    }
    const most = asks.reduce<{ length: number; why: string } | null>(
      (best, ask) => (best === null || ask.length > best.length ? ask : best),
      null,
    )
    if (most) return most
    return i === 0 || i === bends ? { length: 0, why: 'a free end' } : { length: null, why: unknown }
  })
}
