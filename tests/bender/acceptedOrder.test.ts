import { describe, expect, test } from 'vitest'
import { equipmentFor } from '../../src/bender/benchCommand.ts'
import { orderFindings } from '../../src/bender/benchFindings.ts'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { judgeOrder } from '../../src/bender/orderSearch.ts'
import { readOrder } from '../../src/bender/orderText.ts'
import { decide, isOpen } from '../../src/checks/decisions.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Acceptance, SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { benderNamed } from './benders.ts'

/** A run that hits a post beside the die in every order, and lies flat, so that it has a half turn. */
const POINTS: readonly Vec3[] = [
  [0, 0, 2000],
  [336, 0, 2000],
  [336, 232, 2000],
  [672, 232, 2000],
]
const bender = {
  ...benderNamed('bench-left'),
  housing: [
    { shape: 'box', name: 'post', at: [60, 190, 0], size: [40, 40, 300], turn: [0, 0, 0] },
    { shape: 'box', name: 'beam', at: [80, -60, 150], size: [400, 500, 20], turn: [0, 0, 0] },
  ],
  arm: [],
  benchTop: -120,
} as const
const document: SkidDocument = {
  ...emptyDocument('accepted'),
  benders: [bender],
  runs: [
    {
      id: 'r',
      tag: 'R-1',
      service: '',
      tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
      clr: 36,
      bender: bender.id,
      endA: { kind: 'free', at: POINTS[0]! },
      vertices: POINTS.slice(1, -1).map((at, i) => ({ id: `v${i}`, at })),
      endB: { kind: 'free', at: POINTS.at(-1)! },
      trimAllowance: 0,
      insulation: 0,
      quantity: 1,
    },
  ],
}
const solved = solveRun(document, document.runs[0]!)

function findingsIn(text: string): readonly Finding[] {
  const { tooling, springback } = equipmentFor(document, solved, {})
  const order = readOrder(text, 2) as readonly OrderedBend[]
  const setup = benchSetup(solved, bender, tooling, springback, { trimAt: 'B' })
  return orderFindings(solved, judgeOrder(setup, order).steps)
}
const accepted = (findings: readonly Finding[]): Acceptance[] =>
  findings.map(f => ({
    finding: f.id,
    category: 'other',
    reason: 'it flexes',
    by: 'T',
    on: '2026-01-01',
    measured: -1000,
    limit: 0,
  }))
const openIn = (findings: readonly Finding[], acceptances: readonly Acceptance[]) =>
  decide(findings, acceptances).decided.filter(isOpen)

const ORDERS = ['A 1 2', 'A 1 2 CCW', 'B 2 1', 'A 2 1', '1A 2B', '2B 1A'] as const

describe('what is accepted of the bender', () => {
  test.each(ORDERS)('in the order %s is accepted in that order and in no other', order => {
    const own = findingsIn(order)
    expect(own.length).toBeGreaterThan(0)
    const acceptances = accepted(own)
    expect(openIn(own, acceptances)).toEqual([])
    for (const other of ORDERS) {
      if (other === order) continue
      const found = findingsIn(other)
      expect([other, openIn(found, acceptances).length]).toEqual([other, found.length])
    }
  })

  test('keeps the ids that it had where all bends are made from end A', () => {
    expect(findingsIn('A 1 2').map(f => f.id)).toContain('housingClash:r:v0:bend:post')
    expect(findingsIn('A 1 2').every(f => f.order === undefined)).toBe(true)
  })

  test('is not accepted for the sheet that is led by the other end', () => {
    const acceptances = accepted(findingsIn('A 1 2'))
    const led = checkBendOrder(document, solved, 'B').findings
    expect(led.length).toBeGreaterThan(0)
    expect(openIn(led, acceptances)).toHaveLength(led.length)
  })
})
