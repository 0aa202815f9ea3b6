import { describe, expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, RunEnd, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import type { Part } from '../../src/store/sessionStore.ts'
import { legForPlace } from '../../src/view/scene/gestures/legForPlace.ts'
import { routeOf } from '../../src/view/scene/routeOf.ts'

const port = (id: string, position: Vec3, axis: Vec3): Fitting => ({
  id,
  name: id,
  catalogueId: null,
  position,
  axis,
  insertionDepth: 10,
  straightNeeded: 24,
  tubeOd: null,
})
const INTO_A: RunEnd = { kind: 'port', fitting: 'a' }
const INTO_B: RunEnd = { kind: 'port', fitting: 'b' }

/** Out of A upwards, over, aside, and down into B; legs 0 and 4 are the ports' stubs. */
const VERTICES: Vec3[] = [
  [0, 0, 200],
  [300, 0, 200],
  [300, 250, 200],
  [500, 250, 200],
]
function skid(endA: RunEnd, endB: RunEnd, vertices = VERTICES): SkidDocument {
  return {
    ...emptyDocument('one run'),
    fittings: [port('a', [0, 0, 0], [0, 0, 1]), port('b', [500, 250, 0], [0, 0, 1])],
    runs: [
      {
        id: 'r',
        tag: 'R-1',
        service: '',
        tube: { catalogueId: null, od: 10, wall: 1, material: '316' },
        clr: 30,
        bender: null,
        endA,
        vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
        endB,
        trimAllowance: 0,
        insulation: 0,
        quantity: 1,
      },
    ],
  }
}
const FREE_A: RunEnd = { kind: 'free', at: [0, 0, 0] }
const FREE_B: RunEnd = { kind: 'free', at: [500, 250, 0] }
const at = (document: SkidDocument, selection: Part | null) =>
  legForPlace(document, routeOf(document, 'r')!, selection)
const point = (id: string): Part => ({ kind: 'point', run: 'r', point: id })
const straight = (k: number): Part => ({ kind: 'straight', run: 'r', straight: k })

describe('a placed point goes', () => {
  test('after the selected point, between it and the next', () => {
    const document = skid(INTO_A, INTO_B)
    expect(at(document, point('v1'))).toBe(1)
    expect(at(document, point('v2'))).toBe(2)
    expect(at(document, point('v3'))).toBe(3)
  })
  test('onto the selected straight', () => {
    const document = skid(INTO_A, INTO_B)
    expect(at(document, straight(1))).toBe(1)
    expect(at(document, straight(2))).toBe(2)
  })
  test('never onto a stub that comes straight out of a port, at either end', () => {
    const document = skid(INTO_A, INTO_B)
    expect(at(document, null)).toBe(3)
    expect(at(document, point('v4'))).toBe(3)
    expect(at(document, point('B'))).toBe(3)
    expect(at(document, straight(4))).toBe(3)
    expect(at(document, point('A'))).toBe(1)
    expect(at(document, straight(0))).toBe(1)
  })
  test('to the end of a run whose end B is free', () => {
    expect(at(skid(INTO_A, FREE_B), null)).toBe(4)
    expect(at(skid(INTO_A, FREE_B), point('B'))).toBe(4)
    expect(at(skid(FREE_A, FREE_B), point('A'))).toBe(0)
    expect(at(skid(FREE_A, FREE_B, []), null)).toBe(0)
  })
  test('in front of the far stub even where both ends have nothing else', () => {
    expect(
      at(
        skid(INTO_A, INTO_B, [
          [0, 0, 200],
          [500, 250, 200],
        ]),
        null,
      ),
    ).toBe(1)
    expect(at(skid(INTO_A, INTO_B, [[0, 0, 200]]), null)).toBe(1)
  })
  test('as if nothing were selected when another run’s point is', () => {
    expect(at(skid(INTO_A, INTO_B), { kind: 'point', run: 'other', point: 'v1' })).toBe(3)
  })
})
