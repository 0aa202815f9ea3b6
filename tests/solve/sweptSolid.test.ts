import type { OpenCascadeInstance } from 'replicad-opencascadejs'
import { beforeAll, describe, expect, test } from 'vitest'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import { cadKernel, sweptSolid } from '../cadKernel.ts'
import { seeded } from '../random.ts'

const SEED = 77

/**
 * A general-purpose CAD kernel (OpenCascade, through replicad-opencascadejs) sweeps a circle along our centre line.
 * Its length is the developed length; by Pappus its volume is the circle's area times that length.
 */
describe(`the tube as a swept solid of a CAD kernel, seed ${SEED}`, () => {
  let oc: OpenCascadeInstance
  beforeAll(async () => {
    oc = await cadKernel()
  }, 60_000)

  test('20 random tubes: volume and wire length agree within 1e-9', () => {
    const random = seeded(SEED)
    for (let i = 0; i < 20; i++) {
      const clr = random.between(20, 60)
      const od = random.between(4, 14)
      const bends = Array.from({ length: random.whole(1, 6) }, () => ({
        angle: random.between(10, 140),
        rotation: random.between(-180, 180),
      }))
      const straights = Array.from({ length: bends.length + 1 }, () => random.between(5, 300))
      const points = rowsToPoints({ straights, bends }, clr, PLAIN_FRAME)
      const result = solveRoute(
        points,
        points.map((_, k) => `p${k}`),
        clr,
      )
      if (!result.ok) throw new Error(result.problem.message)
      const { wire, solid } = sweptSolid(oc, result.route.pieces, od)
      const length = new oc.GProp_GProps()
      oc.BRepGProp.LinearProperties(wire, length, false, false)
      const volume = new oc.GProp_GProps()
      oc.BRepGProp.VolumeProperties(solid, volume, false, false, false)
      const wanted = result.route.developedLength
      expect(Math.abs(length.Mass() / wanted - 1)).toBeLessThan(1e-9)
      expect(Math.abs(Math.abs(volume.Mass()) / ((Math.PI * od * od * wanted) / 4) - 1)).toBeLessThan(1e-9)
      wire.delete()
      solid.delete()
      length.delete()
      volume.delete()
    }
  })
})
