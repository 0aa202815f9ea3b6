import type { Run, SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { SAME_GAP } from '../../skid/clearanceFindings.ts'
import type { TubePart } from '../../skid/parts.ts'
import { gapTo, type Neighbour } from '../../skid/surroundings.ts'
import { solveRun } from '../../solve/solveRun.ts'
import { missBy, runChecks } from '../runChecks.ts'

/** A figure that misses its limit by this much more is worse: over the rounding of a sum of coordinates. */
const WORSE = 1e-6

/** What a run's fast checks say of it, by identity; notes are left out: they are not wrong. */
export function faultsOf(document: SkidDocument, run: Run): ReadonlyMap<string, Finding> {
  const { findings } = runChecks({ ...document, runs: [run] }, [solveRun(document, run)])
  return new Map(findings.filter(f => f.severity !== 'note').map(f => [f.id, f]))
}

/** The first check that is broken or broken worse than before, in its own words; null when none is. */
export function firstWorse(
  before: ReadonlyMap<string, Finding>,
  after: ReadonlyMap<string, Finding>,
): Finding | null {
  for (const [id, now] of after) {
    const was = before.get(id)
    if (!was || RANK[now.severity] > RANK[was.severity] || missBy(now) > missBy(was) + WORSE) return now
  }
  return null
}
const RANK: Record<Finding['severity'], number> = { note: 0, notChecked: 1, warning: 2, error: 3 }

/** How near the run came to each neighbour before, where that was less than asked. */
export type Short = ReadonlyMap<Neighbour, { readonly gap: number; readonly errorBound: number }>

export function shortOf(tube: TubePart, neighbours: readonly Neighbour[]): Short {
  const short = new Map<Neighbour, { gap: number; errorBound: number }>()
  for (const n of neighbours) {
    const found = gapTo(tube, n, n.required)
    if (found) short.set(n, found)
  }
  return short
}

/**
 * The first neighbour that the tube comes nearer to than it may, and by how much it is short, mm: nearer than asked
 * and, where it was already short before, nearer still by more than the two measurements' own bounds.
 */
export function firstNear(
  tube: TubePart,
  neighbours: readonly Neighbour[],
  before: Short,
): { readonly neighbour: Neighbour; readonly gap: number } | null {
  for (const neighbour of neighbours) {
    const now = gapTo(tube, neighbour, neighbour.required)
    if (!now || now.gap >= neighbour.required - SAME_GAP) continue
    const was = before.get(neighbour)
    if (!was || now.gap < was.gap - was.errorBound - now.errorBound) return { neighbour, gap: now.gap }
  }
  return null
}
