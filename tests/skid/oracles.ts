import { sweep } from '../../src/geometry/swept.ts'
import { sweptGap } from '../../src/geometry/sweptGap.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { pointToTube, randomShapes, sampledDistance } from '../geometry/sampledTube.ts'
import type { Oracle } from '../measure/oracle.ts'
import { seeded } from '../random.ts'
import { movedScene, type PortScene, portScene, renamedScene, sceneMotion } from './portScene.ts'

const SEED = 6006
const PAIRS = 40
const SCENES = 15

/** Clearance on the skid against plain sampling, and against itself elsewhere. */
export async function skidOracles(): Promise<Oracle[]> {
  return [shortEnds(), sameElsewhere()]
}

function shortEnds(): Oracle {
  const random = seeded(SEED)
  let [worst, cases] = [0, 0]
  while (cases < PAIRS) {
    const r = random.between(4, 10)
    const at = (side: number): Vec3 => [
      random.between(-side, side),
      random.between(-side, side),
      random.between(-side, side),
    ]
    const tube = (origin: Vec3) =>
      sweep(randomShapes(random.next, random.whole(0, 3), origin, 2.5 * r, r * random.between(0, 2)), r)
    const [a, b] = [tube([0, 0, 0]), tube(at(90))]
    const sampled = Math.min(
      sampledDistance(a, p => pointToTube(p, b)),
      sampledDistance(b, p => pointToTube(p, a)),
    )
    if (sampled < 0.001) continue
    cases++
    worst = Math.max(worst, Math.abs(sweptGap(a, b, Infinity)!.gap - sampled))
  }
  return {
    property: 'the gap of tubes that end right after a bend is that of dense sampling',
    cases,
    worst: `${worst.toFixed(6)} mm`,
  }
}

function sameElsewhere(): Oracle {
  const random = seeded(SEED + 1)
  let [worst, cases] = [0, 0]
  const figures = ({ document, meshes }: PortScene, by = 1) =>
    clearanceFindings(document, solveDocument(document), meshes)
      .map(f => (f.measured ?? 0) / by)
      .sort((p, q) => p - q)
  for (let k = 0; k < SCENES; k++) {
    const scene = portScene(random)
    const before = figures(scene)
    for (const after of [
      figures(renamedScene(scene)),
      figures(movedScene(scene, sceneMotion(random, 1, true))),
      figures(movedScene(scene, sceneMotion(random, 2, false)), 2),
    ]) {
      cases++
      worst = Math.max(
        worst,
        after.length === before.length ? 0 : Infinity,
        ...after.map((x, i) => Math.abs(x - (before[i] ?? Infinity))),
      )
    }
  }
  return {
    property: 'a skid of ports has the same findings renamed, mirrored and twice as large',
    cases,
    worst: `${worst.toExponential(1)} mm`,
  }
}
