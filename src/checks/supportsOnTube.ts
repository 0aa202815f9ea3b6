import { mm, say } from '../document/sentence.ts'
import type { Support } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { type NearestOnRoute, nearestAlong } from '../solve/nearestAlong.ts'
import type { SolvedRoute } from '../solve/types.ts'
import { finding, type RouteCheck, type RouteContext } from './runContext.ts'

/** A support this far from the tube's centre line no longer fits round it. Common practice, no source. mm. */
export const SUPPORT_OFF_MM = 0.5

export interface PlacedSupport extends NearestOnRoute {
  readonly support: Support
  /** False when it is off the centre line by more than {@link SUPPORT_OFF_MM}: then it holds nothing. */
  readonly holds: boolean
}

/** The run's supports with their place on the tube, from end A. */
export const placedSupports = (
  supports: readonly Support[],
  runId: string,
  route: SolvedRoute,
): PlacedSupport[] =>
  supports
    .filter(s => s.run === runId)
    .map(support => {
      const near = nearestAlong(route, support.at)
      return { support, ...near, holds: near.distance <= SUPPORT_OFF_MM + LENGTH_SLACK_MM }
    })
    .sort((a, b) => a.along - b.along || (a.support.id < b.support.id ? -1 : 1))

export const supportsOf = ({ document, run, route }: RouteContext): PlacedSupport[] =>
  placedSupports(document.supports, run.id, route)

/**
 * Does each support stand on the tube's centre line? It stays where it is bolted when the tube moves away. Off by more
 * than 0.5 mm is a warning; what is measured is the distance to the nearest point of the centre line.
 */
export const supportsOnTube: RouteCheck = context =>
  supportsOf(context).flatMap(({ support, distance, along, holds }): Finding[] =>
    holds
      ? []
      : [
          finding(context.run, {
            rule: 'supportOffTube',
            severity: 'warning',
            parts: [support.id],
            where: { kind: 'support', index: null, other: support.id },
            measured: distance,
            limit: SUPPORT_OFF_MM,
            unit: 'mm',
            sentence: say`${support.name} stands ${mm(distance, SUPPORT_OFF_MM)} off the tube's centre line, ${mm(along)} along the tube from end A; at most ${mm(SUPPORT_OFF_MM, distance)} fits round it`,
          }),
        ],
  )
