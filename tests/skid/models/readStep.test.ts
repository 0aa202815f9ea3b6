import { describe, expect, test } from 'vitest'
import { cadKernel } from '../../cadKernel.ts'
import { stepOf } from './cadStep.ts'
import { readHere, refusal, volumeOf } from './readHere.ts'

const oc = await cadKernel()
const box = new oc.BRepPrimAPI_MakeBox(100, 50, 20).Shape()
const motor = new oc.BRepPrimAPI_MakeCylinder(15, 80).Shape()
const ball = new oc.BRepPrimAPI_MakeSphere(25).Shape()
const torus = new oc.BRepPrimAPI_MakeTorus(60, 10).Shape()
const skid = (unit: 'MM' | 'INCH') =>
  stepOf(
    oc,
    'Pump: skid/1',
    [
      { name: 'Base plate', shape: box },
      { name: 'Motor', shape: motor, shift: [10, 20, 30], turnDeg: 30 },
      { name: 'Motor', shape: motor, shift: [200, 0, 0] },
      { name: 'Ball, größer', shape: ball, shift: [0, -300, 0] },
      { name: 'Ring', shape: torus },
    ],
    unit,
  )

const bounds = (positions: ArrayLike<number>) =>
  [0, 1, 2].map(k => {
    const own = Array.from(positions).filter((_, i) => i % 3 === k)
    return [Math.min(...own), Math.max(...own)] as const
  })

describe.each(['MM', 'INCH'] as const)('an assembly that the CAD kernel wrote in %s', unit => {
  const read = readHere(skid(unit), 'skid.stp')

  test('gives its parts by their names, in millimetres, with no axis that points up', async () => {
    const { format, unitMm, up, parts } = await read
    expect({ format, unitMm, up }).toEqual({ format: 'step', unitMm: 1, up: null })
    expect(parts.map(p => p.key)).toEqual([
      'Pump%3A skid%2F1/Base plate',
      'Pump%3A skid%2F1/Motor',
      'Pump%3A skid%2F1/Motor#2',
      'Pump%3A skid%2F1/Ball, größer',
      'Pump%3A skid%2F1/Ring',
    ])
    expect(parts[1]!.names).toEqual(['Pump: skid/1', 'Motor'])
  })

  test('has the volumes of its shapes, short by no more than the triangles leave off', async () => {
    const { parts } = await read
    const [plate, first, second, sphere, ring] = parts.map(volumeOf)
    expect(plate).toBeCloseTo(100_000, 4)
    // A chord that stays within 0.1 mm of the surface leaves off at most 0.1 mm times its area.
    const less = (found: number, exact: number, area: number) => {
      expect(found).toBeLessThanOrEqual(exact + 1e-6)
      expect(found).toBeGreaterThan(exact - 0.1 * area)
    }
    less(first!, Math.PI * 15 * 15 * 80, 2 * Math.PI * 15 * 80)
    less(second!, Math.PI * 15 * 15 * 80, 2 * Math.PI * 15 * 80)
    less(sphere!, (4 / 3) * Math.PI * 25 ** 3, 4 * Math.PI * 25 * 25)
    // Inside of a ring's hole chords lie outside of the solid: both ways.
    expect(Math.abs(ring! - 2 * Math.PI ** 2 * 60 * 100)).toBeLessThan(0.1 * 4 * Math.PI ** 2 * 60 * 10)
  })

  test('stands where its assembly puts it', async () => {
    const { parts } = await read
    const [, , [low, high]] = bounds(parts[1]!.positions) as [unknown, unknown, [number, number]]
    expect([low, high]).toEqual([expect.closeTo(30, 6), expect.closeTo(110, 6)])
    const [x, y] = bounds(parts[3]!.positions)
    expect(x![0]).toBeCloseTo(-25, 0)
    expect(y![1]).toBeCloseTo(-275, 0)
  })
})

test('triangles keep within the stated 0.1 mm of balls and rings from 4 to 240 mm', async () => {
  const radii = [2, 25, 120]
  const bytes = stepOf(
    oc,
    'Round things',
    radii.flatMap(r => [
      { name: `ball ${r}`, shape: new oc.BRepPrimAPI_MakeSphere(r).Shape() },
      { name: `ring ${r}`, shape: new oc.BRepPrimAPI_MakeTorus(r, r / 4).Shape() },
    ]),
  )
  const { parts } = await readHere(bytes, 'round.step')
  parts.forEach(({ positions: p, indices }, i) => {
    const r = radii[i >> 1]!
    // Signed way out of the surface: of a ball about the origin, of a ring about z.
    const outside = ([x, y, z]: readonly [number, number, number]) =>
      i % 2 === 0 ? Math.hypot(x, y, z) - r : Math.hypot(Math.hypot(x, y) - r, z) - r / 4
    let furthest = 0
    for (let t = 0; t < indices.length; t += 3) {
      const at = (u: number, v: number) =>
        [0, 1, 2].map(
          k =>
            p[3 * indices[t]! + k]! * (1 - u - v) +
            p[3 * indices[t + 1]! + k]! * u +
            p[3 * indices[t + 2]! + k]! * v,
        ) as [number, number, number]
      for (const [u, v] of [
        [1 / 3, 1 / 3],
        [0.5, 0],
        [0, 0.5],
        [0.5, 0.5],
        [0.4, 0.2],
        [0.2, 0.4],
      ] as const)
        furthest = Math.max(furthest, Math.abs(outside(at(u, v))))
    }
    expect(furthest, parts[i]!.names.join()).toBeLessThan(0.1)
    expect(furthest, parts[i]!.names.join()).toBeGreaterThan(0.001)
  })
})

test('a STEP file is known by its content, and a name that says otherwise is told', async () => {
  const { format, notes } = await readHere(skid('MM'), 'skid.stl')
  expect(format).toBe('step')
  expect(notes[0]).toBe('The name ends like an STL file but the file is a STEP file: it is read as that.')
  expect(notes.join(' ')).toContain('within about 0.1 mm')
})

test('a STEP file that is cut off, empty of shapes or damaged is refused with the place', async () => {
  const whole = skid('MM')
  expect(await refusal(whole.subarray(0, whole.length >> 1), 'a.stp')).toBe(
    'the end of the file: found no "END-ISO-10303-21;"; wanted it: the file is cut off',
  )
  const text = new TextDecoder().decode(whole)
  const [head] = text.split('DATA;')
  expect(await refusal(`${head}DATA;\nENDSEC;\nEND-ISO-10303-21;\n`, 'a.stp')).toMatch(/^the file: found /)
  expect(await refusal('ISO-10303-21;\nnonsense\nEND-ISO-10303-21;\n', 'a.stp')).toMatch(/^the file: found /)
})
