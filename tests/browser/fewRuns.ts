import { KNOWN_BENDERS } from '../../src/document/knownBenders.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'

const SERVICES = ['instrument air', 'drain', 'sample'] as const

const BENDER = KNOWN_BENDERS[0]!.bender

/** Of the rows of tubes, mm: overlap, R-4 and R-5 are too near, the others stand apart. */
const ROWS_MM = [0, 8, 120, 240, 258, 380, 500] as const

/** The middle of a run's long straight, mm; from 1. */
export const middleOf = (run: number): [number, number, number] => [200, ROWS_MM[run - 1]!, 100]

/** Seven runs of one bend each in rows, and boxes beside them; invented. Small, so that a slow machine draws it at once. */
export function fewRuns(): SkidDocument {
  const runs = ROWS_MM.map(
    (y, i): Run => ({
      id: `r${i + 1}`,
      tag: `R-${i + 1}`,
      service: SERVICES[i % SERVICES.length]!,
      tube: { catalogueId: 'mm-12-1.5', od: 12, wall: 1.5, material: '316' },
      clr: 36,
      bender: BENDER.id,
      endA: { kind: 'free', at: [0, y, 100] },
      vertices: [{ id: 'v1', at: [400, y, 100] }],
      endB: { kind: 'free', at: [400, y, 300] },
      trimAllowance: 0,
      insulation: 0,
      quantity: 1,
    }),
  )
  return {
    ...emptyDocument('Seven runs, invented'),
    invented: true,
    benders: [BENDER],
    runs,
    solids: ['Cabinet', 'Duct', 'Post'].map((name, i) => ({
      id: name.toLowerCase(),
      name,
      kind: 'equipment',
      fitting: null,
      shape: 'box',
      at: [200, 600 + 120 * i, 100],
      size: [100, 60, 100],
      turn: [0, 0, 0],
    })),
  }
}

export const fewRunsText = (): string => writeDocument(fewRuns())
