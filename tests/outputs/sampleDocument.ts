import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'

const fitting = (id: string, position: Vec3, axis: Vec3): Fitting => ({
  id,
  name: id,
  catalogueId: null,
  position,
  axis,
  insertionDepth: 17,
  straightNeeded: 30,
  tubeOd: 12,
})

const run = (tag: string, vertices: readonly Vec3[], over: Partial<Run>): Run => ({
  id: `id-${tag}`,
  tag,
  service: 'invented',
  tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
  clr: 36,
  bender: 'b',
  endA: { kind: 'port', fitting: 'f1' },
  vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
  endB: { kind: 'port', fitting: 'f2' },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
  ...over,
})

/** Three invented runs without a symmetry that could hide a sign: port to port, an inch tube to a free end, a straight. */
export const SAMPLE: SkidDocument = {
  ...emptyDocument('Invented test skid'),
  invented: true,
  fittings: [fitting('f1', [0, 0, 500], [1, 0, 0]), fitting('f2', [700, 450, 120], [0, 0, 1])],
  benders: [
    {
      id: 'b',
      name: 'Invented bench bender',
      catalogueId: null,
      note: 'invented',
      hand: 'left',
      kind: 'rotaryDraw',
      tooling: [
        {
          id: 't12',
          od: 12,
          clr: 36,
          clrMeasured: 'settled',
          clampGrip: 30,
          followerLength: 30,
          referenceOffset: 3,
          maxAngle: 190,
        },
      ],
      springback: [{ material: '316', offset: 1.2, perDegree: 0.02, range: [15, 120] }],
      housing: [],
      arm: [],
      benchTop: null,
      benchEdge: null,
    },
  ],
  runs: [
    run(
      'T-101',
      [
        [160, 0, 500],
        [260, 140, 560],
        [420, 260, 420],
        [700, 450, 420],
      ],
      { quantity: 3 },
    ),
    run(
      'T-102 "½ in"',
      [
        [-200, 80, 0],
        [-150, 300, 90],
        [-310, 320, 400],
      ],
      {
        tube: { catalogueId: null, od: 12.7, wall: 1.2446, material: '316' },
        clr: 38.1,
        bender: null,
        endA: { kind: 'free', at: [-500, 80, 0] },
        endB: { kind: 'free', at: [-310, 620, 400] },
        trimAllowance: 5,
        quantity: 2,
      },
    ),
    run('T-103', [], {
      endA: { kind: 'free', at: [0, -200, 50] },
      endB: { kind: 'free', at: [480, -200, 50] },
      quantity: 4,
    }),
  ],
}

export const SOLVED = solveDocument(SAMPLE)
