import { knownBender } from '../../src/document/knownBenders.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'

export const port = (id: string, position: Vec3, axis: Vec3): Fitting => ({
  id,
  name: `Port ${id}`,
  catalogueId: null,
  position,
  axis,
  insertionDepth: 22,
  straightNeeded: 24,
  tubeOd: 12,
})

/** 12 × 1.5 tube at CLR 36 on the invented left-hand bench bender. */
export const runOf = (id: string, vertices: readonly Vec3[], ends: Partial<Run> = {}): Run => ({
  id,
  tag: `TAG-${id}`,
  service: 'impulse line, invented',
  tube: { catalogueId: 'mm-12-1.5', od: 12, wall: 1.5, material: '316' },
  clr: 36,
  bender: 'bench-left',
  endA: { kind: 'free', at: [0, 0, 0] },
  vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
  endB: { kind: 'free', at: [400, 300, 300] },
  trimAllowance: 3,
  insulation: 0,
  quantity: 1,
  ...ends,
})

export const documentOf = (runs: readonly Run[], fittings: readonly Fitting[] = []): SkidDocument => ({
  ...emptyDocument('Sample, invented'),
  invented: true,
  fittings,
  benders: [knownBender('bench-left')!.bender],
  runs,
})

/** Two ports, a run of two bends with room for everything, one of every solid, an acceptance. */
export function sampleDocument(): SkidDocument {
  return {
    ...documentOf(
      [
        runOf(
          'r1',
          [
            [0, 0, 300],
            [400, 0, 300],
          ],
          {
            endA: { kind: 'port', fitting: 'a' },
            endB: { kind: 'port', fitting: 'b' },
          },
        ),
        runOf('r2', [], {
          endA: { kind: 'free', at: [0, 500, 0] },
          endB: { kind: 'free', at: [0, 500, 900] },
        }),
      ],
      [port('a', [0, 0, 0], [0, 0, 1]), port('b', [400, 0, 0], [0, 0, 1])],
    ),
    solids: [
      {
        id: 's1',
        name: 'Manifold',
        kind: 'fitting',
        fitting: 'a',
        shape: 'box',
        at: [0, 0, -20],
        size: [80, 40, 40],
        turn: [0, 0, 0],
      },
      {
        id: 's2',
        name: 'Vessel',
        kind: 'equipment',
        fitting: null,
        shape: 'cylinder',
        at: [0, -900, 500],
        axis: [0, 0, 1],
        length: 900,
        radius: 250,
      },
      {
        id: 's3',
        name: 'Lamp',
        kind: 'equipment',
        fitting: null,
        shape: 'sphere',
        at: [900, 0, 900],
        radius: 40,
      },
      {
        id: 's4',
        name: 'Floor',
        kind: 'floor',
        fitting: null,
        shape: 'plane',
        at: [0, 0, -600],
        normal: [0, 0, 1],
      },
    ],
    models: [
      {
        id: 'm1',
        name: 'Pump frame',
        fileName: 'pump-frame.stp',
        hash: '0123456789abcdef'.repeat(4),
        bytes: 20_480,
        format: 'step',
        unitMm: 25.4,
        up: 'y',
        at: [1200, -30.5, 0],
        turn: [0, 0, 12.5],
        kind: 'equipment',
        fitting: null,
        parts: [
          { key: 'frame/leg#2', kind: 'structure', fitting: null },
          { key: 'frame/decal', kind: 'leftOut', fitting: null },
        ],
      },
    ],
    supports: [{ id: 'c1', name: 'Clamp 1', type: 'clamp 12, invented', run: 'r1', at: [200, 0, 300] }],
    supportSpan: 900,
    viewpoints: [
      {
        id: 'w1',
        name: 'Behind the pump',
        note: 'is there room for the spanner?',
        by: 'A. Reviewer',
        on: '2026-03-31',
        target: [100, 0, 50],
        yaw: -60,
        pitch: 25,
        span: 800,
        projection: 'orthographic',
        section: { at: [0, 0, 20], normal: [0, 0, 1] },
        hidden: ['s4', 'm1/frame/decal'],
      },
    ],
    acceptances: [
      {
        finding: 'noBend:r1:v1',
        category: 'agreed',
        reason: 'as the tube is held',
        by: 'A. Reviewer',
        on: '2026-03-31',
        measured: 1.25,
        limit: null,
      },
    ],
  }
}
