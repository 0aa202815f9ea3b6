import { knownBender } from '../../src/document/knownBenders.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'

/** One run of 12 mm tube with three bends on the left-hand bench bender of the table; invented. */
export function benchDocument(straights = [150, 180, 160, 140]): { document: SkidDocument; run: Run } {
  const bender = knownBender('bench-left')!.bender
  const points = rowsToPoints(
    {
      straights,
      bends: [
        { angle: 90, rotation: null },
        { angle: 45, rotation: 60 },
        { angle: 30, rotation: -90 },
      ],
    },
    36,
    PLAIN_FRAME,
  )
  const run: Run = {
    id: 'r1',
    tag: 'T-1',
    service: '',
    tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
    clr: 36,
    bender: bender.id,
    endA: { kind: 'free', at: points[0]! },
    vertices: points.slice(1, -1).map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: { kind: 'free', at: points.at(-1)! },
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
  }
  return { document: { ...emptyDocument('Bench'), benders: [bender], runs: [run] }, run }
}
