import type { SkidDocument } from '../../src/document/types.ts'
import { SkidMaker } from './skidMaker.ts'

/** One run, four bends, two ports; the last straight is too short for the port's nut. Opens first. */
export function firstRoute(): SkidDocument {
  const skid = new SkidMaker(
    'Blower to manifold',
    'Air from the blower to the oyster tanks’ manifold. The straight at the manifold is too short for the port’s nut.',
  )
    .bender('bench-left')
    .floor()
    .box('blower', 'Blower', 'equipment', [150, 200, 200], [280, 240, 330])
    .box('plinth', 'Plinth', 'structure', [150, 200, 15], [340, 300, 30])
    .cylinder('manifold', 'Air manifold', 'equipment', [786, 400, 580], [0, 1, 0], 420, 40)
    .box('stand', 'Manifold stand', 'structure', [786, 400, 270], [60, 60, 540])
  const a = skid.port('blower-out', 'Blower outlet', '12', [150, 200, 401], [0, 0, 1])
  const b = skid.port('manifold-in', 'Manifold inlet', '12', [710, 400, 580], [-1, 0, 0])
  return skid
    .run(
      'AE-101',
      'aeration',
      '12',
      [a, b],
      [
        [150, 200, 700],
        [360, 200, 700],
        [560, 400, 700],
        [680, 400, 580],
      ],
    )
    .document()
}

/** The smallest job: two bends, nothing wrong. */
export function twoBends(): SkidDocument {
  const skid = new SkidMaker('Sample tap', 'Sea water from the intake line to a sample tap.')
    .bender('bench-left')
    .floor()
    .cylinder('intake', 'Intake line', 'equipment', [0, 0, 300], [0, 1, 0], 500, 45)
    .box('bracket', 'Tap bracket', 'structure', [431, 0, 560], [20, 120, 160])
  const a = skid.port('tap-off', 'Tap-off', '6', [0, 0, 381], [0, 0, 1])
  const b = skid.port('tap', 'Sample tap', '6', [385, 0, 500], [-1, 0, 0])
  return skid
    .run(
      'WS-101',
      'water sample',
      '6',
      [a, b],
      [
        [0, 0, 600],
        [200, 0, 500],
      ],
    )
    .document()
}

/** Inch tube: everything on a one-inch grid. */
export function inchSkid(): SkidDocument {
  const inch = (...at: [number, number, number]) =>
    at.map(v => Math.round(v * 25.4e6) / 1e6) as unknown as [number, number, number]
  const skid = new SkidMaker(
    'Water-sampling skid (inch)',
    'Four sample lines in 3/8 in tube and one drain in 1/4 in tube, on a one-inch grid.',
  )
    .bender('bench-right')
    .floor()
    .frame(inch(-4, -4, 0), inch(40, 16, 50), 50.8)
    .cylinder('header', 'Sample header', 'equipment', inch(11, 0, 8), [1, 0, 0], 24 * 25.4, 38.1)
    .box('analyser', 'Analyser', 'equipment', inch(20, 11, 40), inch(22, 5, 9))
    .cylinder('sump', 'Drain sump', 'equipment', inch(33, 8, 5), [0, 0, 1], 10 * 25.4, 101.6)
  for (let i = 0; i < 4; i++) {
    const x = 3 + 5 * i
    const a = skid.port(`tap-${i + 1}`, `Header tap ${i + 1}`, '3/8', inch(x, 0, 11), [0, 0, 1])
    const b = skid.port(`cell-${i + 1}`, `Flow cell ${i + 1}`, '3/8', inch(13 + 4 * i, 10, 34), [0, 0, -1])
    skid.run(
      `WS-30${i + 1}`,
      'water sample',
      '3/8',
      [a, b],
      [inch(x, 0, 24 - 2 * i), inch(x, 10, 24 - 2 * i), inch(13 + 4 * i, 10, 24 - 2 * i)],
    )
  }
  const a = skid.port('cell-drain', 'Flow-cell drain', '1/4', inch(30, 10, 34), [0, 0, -1])
  const b = skid.port('sump-in', 'Sump inlet', '1/4', inch(33, 6, 12), [0, 0, 1])
  skid.run('DR-305', 'flow-cell drain', '1/4', [a, b], [inch(30, 10, 28), inch(33, 6, 28)])
  return skid.document()
}

/** Five runs, each unbuildable in its own way. */
export function cannotBeMade(): SkidDocument {
  const skid = new SkidMaker(
    'Cannot be made',
    'Every run here has one fault: CB-301 a leg overrun by its bends, CB-302 a straight shorter than the clamp’s grip, CB-303 a reversal, CB-304 a radius without tooling, CB-305 a first leg off its port’s axis.',
  )
    .bender('bench-left')
    .floor()
    .box('panel', 'Panel', 'structure', [300, -60, 400], [900, 20, 700])
  const ports = (n: number) =>
    [
      skid.port(`in-${n}`, `Inlet ${n}`, '10', [0, 0, 120 * n + 60], [1, 0, 0]),
      skid.port(`out-${n}`, `Outlet ${n}`, '10', [600, 0, 120 * n + 60], [-1, 0, 0]),
    ] as const
  const z = (n: number) => 120 * n + 60
  skid.run('CB-301', 'aeration', '10', ports(1), [
    [200, 0, z(1)],
    [200, 50, z(1)],
    [400, 50, z(1)],
    [400, 0, z(1)],
  ])
  skid.run('CB-302', 'aeration', '10', ports(2), [
    [200, 0, z(2)],
    [200, 75, z(2)],
    [400, 75, z(2)],
    [400, 0, z(2)],
  ])
  skid.run('CB-303', 'algae feed', '10', ports(3), [
    [300, 0, z(3)],
    [150, 0, z(3)],
    [450, 120, z(3)],
  ])
  skid.run(
    'CB-304',
    'algae feed',
    '10',
    ports(4),
    [
      [200, 0, z(4)],
      [200, 140, z(4)],
      [400, 140, z(4)],
      [400, 0, z(4)],
    ],
    { clr: 25 },
  )
  skid.run('CB-305', 'water sample', '10', ports(5), [
    [180, 30, z(5)],
    [420, 0, z(5)],
  ])
  return skid.document()
}

/** Eight runs off one manifold, each on three clamps, 600 mm apart at most. */
export function algaeManifold(): SkidDocument {
  const skid = new SkidMaker(
    'Algae-feed manifold',
    'Algae culture from one manifold to eight seed tanks’ dosing points.',
  )
    .bender('bench-left')
    .floor()
    .cylinder('manifold', 'Algae manifold', 'equipment', [210, 0, 1200], [1, 0, 0], 560, 32)
    .box('rack', 'Dosing rack', 'structure', [760, 160, 236], [560, 80, 40])
    .cylinder('culture', 'Culture vessel', 'equipment', [-360, 60, 700], [0, 0, 1], 900, 190)
    .frame([-620, -220, 0], [1160, 340, 1500], 50)
  for (let i = 0; i < 8; i++) {
    const from = 60 * i
    const to = 550 + 60 * i
    const level = 640 + 40 * i
    const a = skid.port(`feed-${i + 1}`, `Manifold port ${i + 1}`, '10', [from, 0, 1131], [0, 0, -1])
    const b = skid.port(`dose-${i + 1}`, `Dosing point ${i + 1}`, '10', [to, 160, 330], [0, 0, 1])
    skid.run(
      `AF-10${i + 1}`,
      'algae feed',
      '10',
      [a, b],
      [
        [from, 0, 1050],
        [from, 160, 1050],
        [from, 160, level],
        [to, 160, level],
      ],
    )
    skid
      .support(`AF-10${i + 1}`, [from, 160, (1050 + level) / 2])
      .support(`AF-10${i + 1}`, [(from + to) / 2, 160, level])
      .support(`AF-10${i + 1}`, [to, 160, (level + 330) / 2])
  }
  return skid.document(600)
}
