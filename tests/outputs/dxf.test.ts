import { expect, test } from 'vitest'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { type SolidTube, solidTubes } from '../../src/outputs/solidTubes.ts'
import { writeDxf } from '../../src/outputs/writeDxf.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { readDxf } from './dxfReader.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

function expectSameLine(text: string, tubes: readonly SolidTube[]) {
  const { entities } = readDxf(text)
  const pieces = tubes.flatMap(t => t.pieces)
  expect(entities.length).toBe(pieces.length)
  entities.forEach((e, i) => {
    const p = pieces[i]!
    expect(e.kind).toBe(p.kind === 'line' ? 'LINE' : 'ARC')
    expect(distance(e.start, p.start)).toBeLessThan(1e-8)
    expect(distance(e.end, p.end)).toBeLessThan(1e-8)
    expect(distance(e.middle, pointOn(p, (p.to - p.from) / 2).point)).toBeLessThan(1e-8)
    expect(Math.abs(e.length - (p.to - p.from))).toBeLessThan(1e-8)
  })
}

test('the centre lines come back from DXF: ends, middles and lengths of every line and arc', () => {
  const tubes = solidTubes(SAMPLE, SOLVED)
  const text = writeDxf(tubes)
  expectSameLine(text, tubes)
  expect(readDxf(text).layers).toEqual(['T-101', 'T-102_IN_', 'T-103'])
  expect(new Set(readDxf(text).entities.map(e => e.layer))).toEqual(new Set(readDxf(text).layers))
})

test('arcs in every plane come back, also with an extrusion along and near ±z; seed 5', () => {
  const random = seeded(5)
  const normals: Vec3[] = [
    [0, 0, 1],
    [0, 0, -1],
    [1, 0, 0],
    [0, -1, 0],
    [0.01, 0.01, 1],
    [0.02, 0, -1],
  ]
  for (let i = 0; i < 40; i++) normals.push(random.direction())
  for (const rough of normals) {
    const l = Math.hypot(...rough)
    const normal: Vec3 = [rough[0] / l, rough[1] / l, rough[2] / l]
    const seed: Vec3 = Math.abs(normal[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]
    const raw: Vec3 = [
      normal[1] * seed[2] - normal[2] * seed[1],
      normal[2] * seed[0] - normal[0] * seed[2],
      normal[0] * seed[1] - normal[1] * seed[0],
    ]
    const rl = Math.hypot(...raw)
    const direction: Vec3 = [raw[0] / rl, raw[1] / rl, raw[2] / rl]
    const bends = [
      { angle: random.between(5, 175), rotation: null },
      { angle: random.between(5, 175), rotation: random.between(-180, 180) },
    ]
    const points = rowsToPoints({ straights: [50, 80, 60], bends }, 36, { ...PLAIN_FRAME, normal, direction })
    const solved = solveRoute(
      points,
      points.map((_, k) => `${k}`),
      36,
    )
    if (!solved.ok) throw new Error(solved.problem.message)
    const tube: SolidTube = {
      runId: 'r',
      tag: 'R',
      od: 12,
      wall: 1,
      material: 'x',
      pieces: solved.route.pieces,
      length: solved.route.developedLength,
    }
    expectSameLine(writeDxf([tube]), [tube])
  }
})

test('tags that make the same layer name stay apart, and a line break in a tag stays a comment', () => {
  const [t] = solidTubes(SAMPLE, SOLVED)
  const text = writeDxf([
    { ...t!, tag: 'a b' },
    { ...t!, tag: 'A-B' },
    { ...t!, tag: 'a/b' },
    { ...t!, tag: '管\n0\nEOF' },
  ])
  const { layers } = readDxf(text)
  expect(new Set(layers).size).toBe(4)
  for (const name of layers) expect(name).toMatch(/^[A-Z0-9$_-]{1,31}$/)
})

test('the header says millimetres and metric, by the group codes that importers ask', () => {
  const pairs = writeDxf(solidTubes(SAMPLE, SOLVED)).split('\r\n')
  const header = pairs.slice(pairs.indexOf('HEADER'), pairs.indexOf('ENDSEC'))
  const variable = (name: string) => header.slice(header.indexOf(name) + 1, header.indexOf(name) + 3)
  expect(variable('$INSUNITS')).toEqual(['70', '4'])
  expect(variable('$MEASUREMENT')).toEqual(['70', '1'])
  expect(variable('$ACADVER')).toEqual(['1', 'AC1009'])
})
