import type { Acceptance, ModelPart, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { type Size, SkidMaker } from './skidMaker.ts'
import { skidModelEntry } from './skidModel.ts'

/** Runs side by side: down from a manifold, back into a plane of their own, down to a level, across, down to a valve. */
interface Row {
  readonly stem: string
  readonly service: string
  readonly size: Size
  readonly count: number
  /** y of the manifold and of the plane. */
  readonly from: number
  readonly plane: number
  readonly top: number
  readonly left: number
  readonly pitch: number
  /** From the first manifold port to the first valve. */
  readonly across: number
  readonly lowest: number
  readonly rise: number
  readonly bottom: number
}

const ROWS: readonly Row[] = [
  {
    stem: 'AE-4',
    service: 'aeration',
    size: '12',
    count: 8,
    from: -60,
    plane: 60,
    top: 1900,
    left: 1000,
    pitch: 64,
    across: 660,
    lowest: 900,
    rise: 48,
    bottom: 420,
  },
  {
    stem: 'AF-4',
    service: 'algae feed',
    size: '10',
    count: 8,
    from: 1010,
    plane: 1130,
    top: 1840,
    left: 950,
    pitch: 60,
    across: 640,
    lowest: 840,
    rise: 44,
    bottom: 460,
  },
  {
    stem: 'WS-4',
    service: 'water sample',
    size: '6',
    count: 6,
    from: 640,
    plane: 740,
    top: 1780,
    left: 980,
    pitch: 46,
    across: 520,
    lowest: 900,
    rise: 38,
    bottom: 520,
  },
]

const part = (key: string, kind: ModelPart['kind']): ModelPart => ({
  key: `Feed-pump skid/${key}`,
  kind,
  fitting: null,
})

/** Twenty-eight runs round the model of a pump skid; some touch what they should not, each in another way. */
export async function denseSkid(): Promise<SkidDocument> {
  const skid = new SkidMaker(
    'Feed-pump skid',
    'Twenty-eight runs round the model of a pump, a tank and a ladder. Some touch or crowd what is there.',
  )
    .bender('bench-left')
    .floor()
    .box('cabinet', 'Control cabinet', 'equipment', [2260, 900, 900], [200, 300, 700])
    .box('door', 'Cabinet door’s sweep', 'keepOut', [2110, 900, 900], [100, 300, 700])
    .box('junction', 'Junction box', 'structure', [1590, 780, 700], [60, 60, 80])
  for (const row of ROWS) addRow(skid, row)
  addSingles(skid)
  return {
    ...skid.document(),
    models: [
      {
        id: 'pump-skid',
        name: 'Pump skid',
        ...(await skidModelEntry()),
        at: [0, 0, 0],
        turn: [0, 0, 0],
        kind: 'equipment',
        fitting: null,
        parts: [
          part('Base frame/Front rail', 'structure'),
          part('Base frame/Rear rail', 'structure'),
          part('Base frame/Cross members', 'structure'),
          part('Base frame/Deck plate', 'structure'),
          part('Ladder/Stiles', 'structure'),
          part('Ladder/Rungs', 'structure'),
          part('Lifting gear/Transport lugs', 'leftOut'),
        ],
      },
    ],
    acceptances: ACCEPTED,
  }
}

const ACCEPTED: readonly Acceptance[] = [
  {
    finding: 'clearance:lg-426:pump-skid/Feed-pump skid/Ladder/Rungs',
    category: 'stays as built',
    reason:
      'The tap is where the tank has it; the rung stays, and a foot does not reach between tank and ladder.',
    by: 'Reviewer of the demo',
    on: '2026-11-25',
    measured: 11.000007152557373,
    limit: 15,
  },
]

function addRow(skid: SkidMaker, row: Row): void {
  const { stem, service, size, count, from, plane, top, left, pitch, across, lowest, rise, bottom } = row
  const id = stem.toLowerCase()
  const middle = (pitch * (count - 1)) / 2
  const long = pitch * count
  skid.cylinder(
    `${id}manifold`,
    `Manifold, ${service}`,
    'equipment',
    [left + middle, from, top],
    [1, 0, 0],
    long,
    30,
  )
  skid.box(
    `${id}valves`,
    `Valve block, ${service}`,
    'equipment',
    [left + across + middle, plane, bottom - 116],
    [long, 70, 100],
  )
  for (let i = 0; i < count; i++) {
    const tag = `${stem}${String(i + 1).padStart(2, '0')}`
    const [x, to, level, face] = [left + pitch * i, left + across + pitch * i, lowest + rise * i, top - 66]
    const a = skid.port(`${tag}-in`.toLowerCase(), `${tag} manifold port`, size, [x, from, face], [0, 0, -1])
    const b = skid.port(`${tag}-out`.toLowerCase(), `${tag} valve`, size, [to, plane, bottom - 30], [0, 0, 1])
    const vertices: Vec3[] = [
      [x, from, face - 84],
      [x, plane, face - 84],
      [x, plane, level],
      [to, plane, level],
    ]
    skid.run(tag, service, size, [a, b], crowded(tag, vertices))
  }
}

/** Two level legs that lie where another run is. */
function crowded(tag: string, vertices: Vec3[]): Vec3[] {
  const lowered = (by: number) => vertices.map((v, i): Vec3 => (i < 2 ? v : [v[0], v[1], v[2] - by]))
  // Copied from the run below and left at its level.
  if (tag === 'AE-405') return lowered(48)
  // Nearer to the run below than the document asks.
  if (tag === 'AF-406') return lowered(30)
  return vertices
}

/** Lines of the tank and the pump, on ways of their own. */
function addSingles(skid: SkidMaker): void {
  // Cuts the corner of the coupling guard.
  skid.run(
    'DR-423',
    'seal drain',
    '8',
    [
      skid.port('seal', 'Pump seal drain', '8', [1560, 560, 300], [0, -1, 0]),
      skid.port('seal-pot', 'Seal pot', '8', [1200, 190, 300], [1, 0, 0]),
    ],
    [[1560, 190, 300]],
  )
  // Lies too low over the floor.
  skid.run(
    'DR-424',
    'tank drain',
    '12',
    [
      skid.port('tank-drain', 'Tank drain', '12', [500, 600, 380], [0, 0, -1]),
      skid.port('drain-valve', 'Drain valve', '12', [900, -120, 240], [0, 0, -1]),
    ],
    [
      [500, 600, 240],
      [500, -120, 240],
      [500, -120, 45],
      [900, -120, 45],
    ],
  )
  skid.run(
    'LG-425',
    'level gauge, upper',
    '10',
    [
      skid.port('level-high', 'Upper level tap', '10', [110, 600, 1400], [-1, 0, 0]),
      skid.port('gauge-high', 'Gauge, upper', '10', [-60, 300, 1300], [0, 0, 1]),
    ],
    [
      [-60, 600, 1400],
      [-60, 300, 1400],
    ],
  )
  // Too near a rung, and accepted: the tap is where the tank has it.
  skid.run(
    'LG-426',
    'level gauge, lower',
    '10',
    [
      skid.port('level-low', 'Lower level tap', '10', [110, 600, 711], [-1, 0, 0]),
      skid.port('gauge-low', 'Gauge, lower', '10', [-60, 300, 860], [0, 0, -1]),
    ],
    [
      [-60, 600, 711],
      [-60, 300, 711],
    ],
  )
  // Through a down leg of the water samples.
  skid.run(
    'SW-427',
    'seal water',
    '8',
    [
      skid.port('seal-water', 'Seal-water tap', '8', [1030, 500, 1300], [0, 1, 0]),
      skid.port('seal-in', 'Pump seal inlet', '8', [1030, 860, 1080], [0, 0, 1]),
    ],
    [[1030, 860, 1300]],
  )
  // Steps towards the tank and comes too near it.
  skid.run(
    'CD-428',
    'carbon dioxide',
    '8',
    [
      skid.port('gas-in', 'Gas tap', '8', [920, 600, 1700], [0, 0, -1]),
      skid.port('gas-out', 'Gas valve', '8', [920, 600, 330], [0, 0, 1]),
    ],
    [
      [920, 600, 1640],
      [873, 600, 1560],
      [873, 600, 500],
      [920, 600, 420],
    ],
  )
}
