import type { SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { type Size, SkidMaker } from './skidMaker.ts'

/**
 * One bank of ten: down from a manifold, back into the bank's own plane, down to a level of its own, across, down.
 * Levels rise with the column, so that no down leg meets a level leg of its bank.
 */
interface Bank {
  readonly stem: string
  readonly service: string
  readonly size: Size
  /** Depth of manifold and of the plane that the bank lies in. */
  readonly from: number
  readonly plane: number
  readonly top: number
  readonly left: number
  readonly pitch: number
  readonly across: number
  /** Distance between valves; the manifold's pitch may differ. */
  readonly valvePitch: number
  /** Height of the step back into the plane: 0 is square, else a slope. */
  readonly step: number
  /** Fall of the level legs, mm per mm, so that a sample line drains. */
  readonly fall: number
  readonly lowest: number
  readonly rise: number
  readonly bottom: number
}

const BANKS: readonly Bank[] = [
  {
    stem: 'AE-2',
    service: 'aeration',
    size: '12',
    from: 0,
    plane: 140,
    top: 1900,
    left: 120,
    pitch: 64,
    across: 760,
    valvePitch: 70,
    step: 140,
    fall: 0,
    lowest: 1130,
    rise: 46,
    bottom: 420,
  },
  {
    stem: 'AF-2',
    service: 'algae feed',
    size: '10',
    from: 220,
    plane: 360,
    top: 1840,
    left: 150,
    pitch: 58,
    across: 700,
    valvePitch: 52,
    step: 0,
    fall: 0,
    lowest: 1120,
    rise: 44,
    bottom: 460,
  },
  {
    stem: 'WS-2',
    service: 'water sample',
    size: '6',
    from: 440,
    plane: 540,
    top: 1780,
    left: 200,
    pitch: 46,
    across: 620,
    valvePitch: 46,
    step: 0,
    fall: 0.02,
    lowest: 1100,
    rise: 38,
    bottom: 520,
  },
]

/** Thirty runs in a dense skid; a handful of them have findings, each of another kind. */
export function thirtyRuns(): SkidDocument {
  const skid = new SkidMaker(
    'Aeration panel',
    'Thirty runs of aeration, algae feed and water sampling in one frame. Most are sound; a few are not.',
  )
    .bender('bench-left')
    .floor()
    .frame([0, -140, 0], [1660, 700, 2100], 60)
    .box('base', 'Base plate', 'structure', [830, 280, 65], [1590, 770, 10])
    .cylinder('vessel', 'Degassing vessel', 'equipment', [340, 300, 430], [0, 0, 1], 660, 210)
    .sphere('vessel-head', 'Vessel head', 'equipment', [340, 300, 740], 150)
    .box('pump', 'Feed pump', 'equipment', [1180, 560, 190], [320, 160, 200])
    .cylinder('motor', 'Pump motor', 'equipment', [1420, 560, 190], [1, 0, 0], 160, 80)
    .box('cabinet', 'Control cabinet', 'equipment', [1545, 560, 1500], [150, 200, 600])
    .box('door', 'Cabinet door’s sweep', 'keepOut', [1390, 590, 1500], [140, 140, 600])
    .box('junction', 'Junction box', 'structure', [1158, 360, 940], [44, 60, 60])
  for (const bank of BANKS) addBank(skid, bank)
  return skid.document()
}

function addBank(skid: SkidMaker, bank: Bank): void {
  const { stem, size, from, plane, top, left, pitch, across, lowest, rise, bottom } = bank
  const { valvePitch, step, fall } = bank
  const middle = left + pitch * 4.5
  skid.cylinder(
    `${stem}manifold`.toLowerCase(),
    `Manifold, ${bank.service}`,
    'equipment',
    [middle, from, top],
    [1, 0, 0],
    pitch * 10,
    30,
  )
  skid.box(
    `${stem}valves`.toLowerCase(),
    `Valve block, ${bank.service}`,
    'equipment',
    [left + across + valvePitch * 4.5, plane, bottom - 116],
    [valvePitch * 10, 70, 100],
  )
  for (let i = 0; i < 10; i++) {
    const n = String(i + 1).padStart(2, '0')
    const tag = `${stem}${n}`
    const x = left + pitch * i
    const to = left + across + valvePitch * i
    const level = lowest + rise * i
    const face = top - 66
    const turn = face - 84
    const a = skid.port(`${tag}-in`.toLowerCase(), `${tag} manifold port`, size, [x, from, face], [0, 0, -1])
    const b = skid.port(`${tag}-out`.toLowerCase(), `${tag} valve`, size, [to, plane, bottom - 30], [0, 0, 1])
    const vertices: Vec3[] = [
      [x, from, turn],
      [x, plane, turn - step],
      [x, plane, level],
      [to, plane, level - fall * (to - x)],
    ]
    skid.run(tag, bank.service, size, [a, b], faulty(tag, vertices), tag === 'AF-203' ? { clr: 35 } : {})
  }
}

/** The handful that is not sound, one kind each. */
function faulty(tag: string, vertices: Vec3[]): Vec3[] {
  const [v1, v2, v3, v4] = vertices as [Vec3, Vec3, Vec3, Vec3]
  // A level so near the jog above it that the clamp has no straight to grip.
  if (tag === 'AE-210') return [v1, v2, [v3[0], v3[1], v2[2] - 66], [v4[0], v4[1], v2[2] - 66]]
  // Leaves its port to one side.
  if (tag === 'WS-201')
    return [[v1[0] - 12, v1[1], v1[2]], [v2[0] - 12, v2[1], v2[2]], [v3[0] - 12, v3[1], v3[2]], v4]
  // Lies on the line below it, nearer than the document asks.
  if (tag === 'WS-206') return [v1, v2, [v3[0], v3[1], v3[2] - 26], [v4[0], v4[1], v4[2] - 26]]
  return vertices
}
