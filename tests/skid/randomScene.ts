import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument, Solid } from '../../src/document/types.ts'
import { addScaled, type Vec3 } from '../../src/geometry/vec3.ts'
import { rowsToPoints, squareFrame } from '../../src/solve/rows.ts'
import type { Random } from '../random.ts'

/** A buildable run with free ends, started at `origin`; bends up to 150°. */
export function randomRun(random: Random, id: string, origin: Vec3, bends: number): Run {
  const od = random.between(6, 20)
  const clr = od * random.between(1.5, 3.5)
  const direction = random.direction()
  const frame = squareFrame(origin, direction, random.direction())!
  const points = rowsToPoints(
    {
      straights: Array.from({ length: bends + 1 }, () => clr * random.between(0.8, 4)),
      bends: Array.from({ length: bends }, () => ({
        angle: random.between(5, 150),
        rotation: random.between(-180, 180),
      })),
    },
    clr,
    frame,
  )
  return {
    id,
    tag: `T-${id}`,
    service: 'invented',
    tube: { catalogueId: null, od, wall: od / 10, material: 'invented' },
    clr,
    bender: null,
    endA: { kind: 'free', at: points[0]! },
    vertices: points.slice(1, -1).map((at, k) => ({ id: `v${k + 1}`, at })),
    endB: { kind: 'free', at: points[points.length - 1]! },
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
  }
}

/** A box, cylinder or sphere of 20 to 150 mm, turned anyhow. */
export function randomSolid(random: Random, id: string, at: Vec3): Solid {
  const base = { id, name: `Solid ${id}`, kind: 'equipment' as const, fitting: null, at }
  const size = () => random.between(20, 150)
  const shape = random.whole(0, 2)
  if (shape === 0) {
    const turn = (): number => random.between(-180, 180)
    return { ...base, shape: 'box', size: [size(), size(), size()], turn: [turn(), turn(), turn()] }
  }
  if (shape === 1)
    return { ...base, shape: 'cylinder', axis: random.direction(), length: size(), radius: size() / 2 }
  return { ...base, shape: 'sphere', radius: size() / 2 }
}

/** A place in a cube of `side` mm around the origin. */
export const randomPlace = (random: Random, side: number): Vec3 => [
  random.between(-side / 2, side / 2),
  random.between(-side / 2, side / 2),
  random.between(-side / 2, side / 2),
]

/** Runs (of 0 to 6 bends unless told) and solids strewn over a cube, with a floor under them; invented. */
export function randomDocument(
  random: Random,
  runs: number,
  solids: number,
  side: number,
  bends?: number,
): SkidDocument {
  return {
    ...emptyDocument('Random scene, invented'),
    invented: true,
    runs: Array.from({ length: runs }, (_, k) =>
      randomRun(random, `r${k}`, randomPlace(random, side), bends ?? random.whole(0, 6)),
    ),
    solids: [
      {
        id: 'floor',
        name: 'Floor',
        kind: 'floor',
        fitting: null,
        shape: 'plane',
        at: [0, 0, -side / 2],
        normal: [0, 0, 1],
      },
      ...Array.from({ length: solids }, (_, k) => randomSolid(random, `s${k}`, randomPlace(random, side))),
    ],
  }
}

/** The run moved as a whole by `way`. Its ends must be free. */
export function moveRun(run: Run, way: Vec3): Run {
  const moved = (end: Run['endA']): Run['endA'] =>
    end.kind === 'free' ? { kind: 'free', at: addScaled(end.at, way, 1) } : end
  return {
    ...run,
    endA: moved(run.endA),
    endB: moved(run.endB),
    vertices: run.vertices.map(v => ({ ...v, at: addScaled(v.at, way, 1) })),
  }
}
