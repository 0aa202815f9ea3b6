import { describe, expect, test } from 'vitest'
import { decide } from '../../src/checks/decisions.ts'
import { straightNeeds } from '../../src/checks/needs.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import type { Run, SkidDocument, UnmeasuredFigure } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf, sampleDocument } from '../document/sampleDocument.ts'

/*
 * The tube of these cases: 12 × 1.5 at CLR 36 on the invented left-hand bench bender, whose clamp grips 30 mm and whose
 * follower is 36 mm long. A square bend's tangent is 36 mm.
 */
const check = (document: SkidDocument) => runChecks(document, solveDocument(document)).findings
const ofRun = (vertices: readonly Vec3[], changes: Partial<Run> = {}) =>
  check(documentOf([runOf('r', vertices, { trimAllowance: 0, ...changes })]))
const free = (at: Vec3) => ({ kind: 'free', at }) as const
const only = (findings: readonly Finding[], rule: string) => findings.filter(f => f.rule === rule)

/** A square U or Z in the xy-plane whose middle leg is `middle` long: its straight is 72 mm less. */
const square = (middle: number, changes: Partial<Run> = {}) =>
  ofRun(
    [
      [200, 0, 0],
      [200, middle, 0],
    ],
    { endB: free([400, middle, 0]), ...changes },
  )

test('a run with room for everything has no finding', () => {
  expect(check(sampleDocument())).toEqual([])
  expect(square(300)).toEqual([])
})

describe('a straight between bends', () => {
  test('shorter than the clamp grip is an error that says by how much', () => {
    expect(only(square(72 + 20), 'straightClamp')).toMatchObject([
      {
        id: 'straightClamp:r:v1:v2',
        rule: 'straightClamp',
        severity: 'error',
        where: { run: 'r', kind: 'straight', index: 1 },
        measured: expect.closeTo(20, 9),
        limit: 30,
        unit: 'mm',
        message: 'straight 2, between bends 1 and 2, is 20 mm; the clamp grips 30 mm: 10 mm missing',
      },
    ])
  })

  test('longer than the clamp grip and shorter than the follower is a note about the order', () => {
    const findings = square(72 + 33)
    expect(findings.map(f => [f.rule, f.severity])).toEqual([['straightFollower', 'note']])
    expect(findings[0]).toMatchObject({ measured: expect.closeTo(33, 9), limit: 36 })
  })

  test('just as long as it must be is no finding, a hair less is, and reads as less', () => {
    expect(square(72 + 36)).toEqual([])
    expect(only(square(72 + 30), 'straightClamp')).toEqual([])
    const [hair] = only(square(72 + 29.9999), 'straightClamp')
    expect(hair!.message).toContain('is 29.9999 mm; the clamp grips 30 mm')
  })

  test('overrun by its bends is an error with the millimetres missing, ahead of all others', () => {
    const findings = square(50)
    expect(findings[0]).toMatchObject({
      id: 'legOverrun:r:v1:v2',
      severity: 'error',
      measured: expect.closeTo(-22, 9),
      limit: 0,
      message: 'straight 2, between bends 1 and 2, is 22 mm too short for the bends at its ends',
    })
    expect(findings.map(f => f.rule)).toEqual(['legOverrun', 'straightClamp', 'straightFollower'])
  })
})

describe('the ends', () => {
  const ported = (lengthA: number, lengthB: number, changes: Partial<Run> = {}) =>
    check(
      documentOf(
        [
          runOf(
            'r',
            [
              [0, 0, lengthA],
              [400, 0, lengthA],
            ],
            {
              endA: { kind: 'port', fitting: 'a' },
              endB: { kind: 'port', fitting: 'b' },
              trimAllowance: 0,
              ...changes,
            },
          ),
        ],
        [port('a', [0, 0, 0], [0, 0, 1]), port('b', [400, 0, lengthA - lengthB], [0, 0, 1])],
      ),
    )

  test('a straight too short for the nut is an error at that fitting; insertion does not help it', () => {
    const findings = ported(36 + 20, 300)
    expect(findings.map(f => f.id)).toEqual(['fittingStraight:r:A:a'])
    expect(findings[0]).toMatchObject({
      measured: expect.closeTo(20, 9),
      limit: 24,
      where: { kind: 'straight', index: 0 },
    })
    expect(findings[0]!.message).toContain('22 mm of insertion inside')
    expect(ported(36 + 24, 300)).toEqual([])
  })

  test('insertion helps the clamp to hold the front, and trim the follower to hold the tail', () => {
    const short = ofRun([[60, 0, 0]], { endA: free([0, 0, 0]), endB: free([60, 60, 0]) })
    expect(short.map(f => f.id)).toEqual(['tailHeld:r:B', 'frontHeld:r:A'])
    expect(short[0]).toMatchObject({ severity: 'error', measured: expect.closeTo(24, 9), limit: 36 })
    expect(short[1]).toMatchObject({ severity: 'error', measured: expect.closeTo(24, 9), limit: 30 })
    // With 22 mm of insertion at both ends the same straights (24 mm) hold.
    expect(ported(60, 60)).toEqual([])
    const trimmed = ofRun([[200, 0, 0]], { endB: free([200, 60, 0]), trimAllowance: 12 })
    expect(trimmed).toEqual([])
  })

  test('a tube that can be held with end B leading is a note that says so', () => {
    const findings = ofRun([[200, 0, 0]], { endB: free([200, 36 + 32, 0]) })
    expect(findings.map(f => [f.rule, f.severity])).toEqual([['tailHeld', 'note']])
    expect(findings[0]!.message).toContain('With end B leading at bend 1 it is held')
  })

  test('a tube without bends needs room for both nuts', () => {
    const straight = (apart: number) =>
      check(
        documentOf(
          [runOf('r', [], { endA: { kind: 'port', fitting: 'a' }, endB: { kind: 'port', fitting: 'b' } })],
          [port('a', [0, 0, 0], [1, 0, 0]), port('b', [apart, 0, 0], [-1, 0, 0])],
        ),
      )
    expect(straight(48)).toEqual([])
    expect(straight(40)).toMatchObject([
      { id: 'fittingStraight:r:B:b', measured: expect.closeTo(16, 9), limit: 24 },
    ])
  })

  test("legs off their port's axis are measured in degrees, also one that leaves backwards", () => {
    const leaving = (axis: Vec3) =>
      only(
        check(
          documentOf(
            [runOf('r', [[300, 0, 0]], { endA: { kind: 'port', fitting: 'a' }, endB: free([300, 300, 0]) })],
            [port('a', [0, 0, 0], axis)],
          ),
        ),
        'portAxis',
      )
    const tilted = (d: number): Vec3 => [
      7 * Math.cos((d * Math.PI) / 180),
      7 * Math.sin((d * Math.PI) / 180),
      0,
    ]
    expect(leaving(tilted(0.49))).toEqual([])
    expect(leaving(tilted(0.51))).toMatchObject([
      { measured: expect.closeTo(0.51, 9), limit: 0.5, unit: 'deg' },
    ])
    expect(leaving([-1, 0, 0])).toMatchObject([{ measured: 180 }])
    expect(leaving([1, 0, 0])).toEqual([])
  })

  test('the last leg is measured against its port from the outside', () => {
    expect(only(ported(300, 300), 'portAxis')).toEqual([])
    const turned = check(
      documentOf(
        [runOf('r', [[300, 0, 0]], { endA: free([0, 0, 0]), endB: { kind: 'port', fitting: 'b' } })],
        [port('b', [300, 300, 0], [0, 1, 0])],
      ),
    )
    expect(turned).toMatchObject([{ id: 'portAxis:r:B:b', measured: 180 }])
  })

  test('a port for another OD is an error', () => {
    const findings = ported(300, 300, {
      tube: { catalogueId: null, od: 10, wall: 1, material: '316' },
      clr: 30,
    })
    expect(findings.map(f => f.id)).toEqual(['portOd:r:A:a', 'portOd:r:B:b'])
    expect(findings[0]!.message).toBe('the tube is 10 mm OD; Port a at end A takes 12 mm')
  })
})

describe('the bender', () => {
  test('without one, its questions are not checked and never silent', () => {
    expect(square(72 + 5, { bender: null })).toMatchObject([
      {
        id: 'benderChecks:r',
        severity: 'notChecked',
        message: expect.stringContaining('no bender is chosen'),
      },
    ])
  })

  test('without a die of this CLR names the nearest, and its questions are not checked', () => {
    expect(square(400, { clr: 38 })).toMatchObject([
      { id: 'clrNotInTooling:r:bench-left', measured: 38, limit: 36, severity: 'error' },
      { id: 'benderChecks:r', severity: 'notChecked' },
    ])
  })

  test('without tooling of this OD names those it has', () => {
    const findings = square(400, { tube: { catalogueId: null, od: 11, wall: 1, material: '316' } })
    expect(findings[0]).toMatchObject({ rule: 'odNotInTooling', message: expect.stringContaining('12 mm') })
  })

  test('whose tooling is not measured is not checked, and what is missing is named', () => {
    const document = documentOf([runOf('r', [[300, 0, 0]], { endB: free([300, 300, 0]) })])
    const [bender] = document.benders
    const missing = (...notMeasured: UnmeasuredFigure[]) =>
      check({
        ...document,
        benders: [{ ...bender!, tooling: bender!.tooling.map(t => ({ ...t, notMeasured })) }],
      })
    expect(missing()).toEqual([])
    const found = missing('clampGrip', 'referenceOffset')
    expect(found.map(f => [f.rule, f.severity])).toEqual([['benderChecks', 'notChecked']])
    expect(found[0]!.message).toMatch(/the clamp grip and reference offset of .* are not measured/)
    expect(missing('maxAngle')[0]!.message).toMatch(/the stop of .* is not measured/)
  })

  test('whose stop a bend passes once springback is on it is an error', () => {
    const document = documentOf([runOf('r', [[300, 0, 0]], { endB: free([300, 300, 0]) })])
    const [bender] = document.benders
    const stopped = (maxAngle: number, springback = bender!.springback) =>
      only(
        check({
          ...document,
          benders: [{ ...bender!, springback, tooling: bender!.tooling.map(t => ({ ...t, maxAngle })) }],
        }),
        'angleBeyondStop',
      )
    const spring = [{ material: '316', offset: 1, perDegree: 0.02, range: null }]
    expect(stopped(92.8, spring)).toEqual([])
    expect(stopped(92.7, spring)).toMatchObject([
      { id: 'angleBeyondStop:r:v1', measured: expect.closeTo(92.8, 9), limit: 92.7, unit: 'deg' },
    ])
    expect(stopped(90, [])).toEqual([])
    expect(stopped(89, [])[0]!.message).toContain('springback not known')
  })

  test('springback that is not on record for the material is not checked, with what makes it known', () => {
    const document = documentOf([runOf('r', [[300, 0, 0]], { endB: free([300, 300, 0]) })])
    const [bender] = document.benders
    const of = (over: Partial<SkidDocument['benders'][number]>) =>
      only(check({ ...document, benders: [{ ...bender!, ...over }] }), 'springbackUnknown')
    expect(of({})).toEqual([])
    const [unknown] = of({ springback: bender!.springback.filter(s => s.material !== '316') })
    expect(unknown).toMatchObject({ severity: 'notChecked', where: { run: 'r', kind: 'run' } })
    expect(unknown!.id).toBe(`springbackUnknown:r:${bender!.id}`)
    expect(unknown!.message).toMatch(/not known for 316: .* to the finished angles only; a trial bend/)
    // Without bends nothing is bent past anything; without a die for it nothing is checked at all.
    const straight = documentOf([runOf('r', [], { endB: free([300, 0, 0]) })])
    expect(
      only(check({ ...straight, benders: [{ ...bender!, springback: [] }] }), 'springbackUnknown'),
    ).toEqual([])
    expect(of({ springback: [], tooling: [] })).toEqual([])
    const onDie = bender!.tooling.map(t => ({ ...t, clrMeasured: 'die' as const }))
    expect(of({ springback: [], tooling: onDie })[0]!.message).toContain('is taken as the die’s')
  })

  test('a stretch as long as the arc is an error, a hair shorter is not', () => {
    const document = documentOf([runOf('r', [[300, 0, 0]], { endB: free([300, 300, 0]) })])
    const [bender] = document.benders
    const stretched = (share: number) => {
      const tooling = bender!.tooling.map(t => ({ ...t, stretchAt90: (share * t.clr * Math.PI) / 2 }))
      return only(check({ ...document, benders: [{ ...bender!, tooling }] }), 'stretchImpossible')
    }
    expect(stretched(0.99)).toEqual([])
    expect(stretched(1.4)[0]).toMatchObject({ severity: 'error', unit: 'mm', where: { index: 0 } })
    expect(stretched(1.4)[0]!.message).toMatch(/^bend 1 of 90° would stretch by .* mm, but its whole arc is/)
  })

  test('springback on record that no tube has is a warning, and one that got worse opens again', () => {
    const document = documentOf([runOf('r', [[300, 0, 0]], { endB: free([300, 300, 0]) })])
    const [bender] = document.benders
    const withRecord = (offset: number, perDegree: number) => ({
      ...document,
      benders: [{ ...bender!, springback: [{ material: '316', offset, perDegree, range: null }] }],
    })
    const doubted = (offset: number, perDegree: number) =>
      only(check(withRecord(offset, perDegree)), 'springbackImplausible')
    expect(doubted(1, 0.03)).toEqual([])
    expect(doubted(-0.9, 0)).toEqual([])
    const [negative] = doubted(-3, 0)
    expect(negative).toMatchObject({ severity: 'warning', measured: -3, limit: 0, unit: 'deg' })
    expect(negative!.message).toMatch(/dial of 87\.0°, less than the angle that is to stay/)
    expect(doubted(0, 40)[0]!.message).toMatch(/more than a metal tube gives back/)
    const accepted = {
      finding: negative!.id,
      category: 'other',
      reason: 'own dial',
      by: 'T',
      on: '2026-01-01',
    } as const
    const state = (offset: number) =>
      decide(doubted(offset, 0), [{ ...accepted, measured: -3, limit: 0 }]).decided[0]!.state
    expect([state(-3), state(-5)]).toEqual(['accepted', 'reopened'])
  })
})

describe('degenerate routes', () => {
  test('a collinear vertex is passed through and said so', () => {
    expect(ofRun([[100, 0, 0]], { endB: free([400, 0, 0]) })).toMatchObject([
      { id: 'noBend:r:v1', severity: 'note', where: { kind: 'vertex', index: 1 } },
    ])
  })

  test('a vertex nearly in line is a bend too small to make', () => {
    const findings = only(ofRun([[200, 0, 0]], { endB: free([400, 1, 0]) }), 'smallBend')
    expect(findings).toMatchObject([{ id: 'smallBend:r:v1', severity: 'warning', limit: 0.5, unit: 'deg' }])
    expect(findings[0]!.measured).toBeCloseTo((Math.atan2(1, 200) * 180) / Math.PI, 9)
  })

  test.each<[string, readonly Vec3[], Partial<Run>, string]>([
    ['a reversal', [[200, 0, 0]], { endB: free([50, 0, 0]) }, 'reversal:r:v1'],
    [
      'coincident points',
      [
        [200, 0, 0],
        [200, 0, 0],
      ],
      {},
      'coincidentPoints:r:v1:v2',
    ],
    ['ends at one point', [], { endB: free([0, 0, 0]) }, 'coincidentPoints:r:A:B'],
    ['a point that is not finite', [[200, Number.NaN, 0]], {}, 'notFinite:r:v1'],
    [
      'a fitting that is gone',
      [[200, 0, 0]],
      { endA: { kind: 'port', fitting: 'gone' } },
      'missingFitting:r:A',
    ],
    ['no radius', [[200, 0, 0]], { clr: 0, bender: null }, 'badClr:r'],
  ])(
    '%s is an error by name, and the rest of the run is said to be not checked',
    (_, vertices, changes, id) => {
      const findings = ofRun(vertices, changes)
      expect(findings.find(f => f.id === id)).toMatchObject({ severity: 'error' })
      expect(findings.find(f => f.id === 'routeChecks:r')).toMatchObject({ severity: 'notChecked' })
    },
  )

  test('a tube without a bore and a bend tighter than the tube are errors', () => {
    expect(
      only(square(400, { tube: { catalogueId: null, od: 12, wall: 6, material: '316' } }), 'tubeBore'),
    ).toHaveLength(1)
    expect(only(square(400, { clr: 6, bender: null }), 'clrTooSmall')).toHaveLength(1)
  })
})

test('figures that are no longer those of their table row are a note, the document is used', () => {
  const thin = square(400, { tube: { catalogueId: 'mm-12-1.5', od: 12, wall: 1, material: '316' } })
  expect(thin).toMatchObject([
    {
      id: 'catalogueChanged:r',
      severity: 'note',
      message: expect.stringContaining('wall 1 mm here, 1.5 mm there'),
    },
  ])
  const gone = square(400, { tube: { catalogueId: 'mm-99', od: 12, wall: 1, material: '316' } })
  expect(gone[0]!.message).toContain('no longer in the table')
})

describe('identity', () => {
  test('is one for each finding, and survives a new tag, a move of everything and a vertex elsewhere', () => {
    const vertices: Vec3[] = [
      [200, 0, 0],
      [200, 92, 0],
      [500, 92, 0],
    ]
    const base = runOf('r', vertices, { endB: free([500, 400, 0]) })
    const before = check(documentOf([base])).map(f => f.id)
    expect(new Set(before).size).toBe(before.length)
    expect(before).toContain('straightClamp:r:v1:v2')
    const moved = (p: Vec3): Vec3 => [p[0] + 1000, p[1] - 50, p[2] + 7]
    const other = {
      ...base,
      tag: 'RENAMED',
      endA: free(moved([0, 0, 0])),
      endB: free(moved([500, 400, 0])),
      vertices: [
        { id: 'new', at: moved([100, 0, 0]) },
        ...base.vertices.map(v => ({ ...v, at: moved(v.at) })),
      ],
    }
    const after = check(documentOf([other])).map(f => f.id)
    expect(after.filter(id => !id.startsWith('noBend'))).toEqual(before)
  })

  test('a bend run of 10,000 points is checked in full', () => {
    const zigzag = Array.from({ length: 10_000 }, (_, i): Vec3 => [i * 60, (i % 2) * 60, 0])
    const findings = ofRun(zigzag, { endA: free([-500, 60, 0]), endB: free([10_000 * 60 + 500, 0, 0]) })
    // 60·√2 less two tangents of a square bend is 12.85 mm: too short for the clamp on each of 9,999 straights.
    expect(only(findings, 'straightClamp').length).toBeGreaterThanOrEqual(9_997)
  })
})

describe('needs along the stock', () => {
  test('are kept apart for each straight, insertion counted where it helps', () => {
    const document = sampleDocument()
    const [solved] = solveDocument(document)
    expect(straightNeeds(document, document.runs[0]!, solved!)).toEqual([
      [
        {
          rule: 'frontHeld',
          name: 'clamp grip',
          whole: 30,
          beyond: 22,
          need: 8,
          from: 'end',
          someOrdersOnly: false,
        },
        {
          rule: 'fittingStraight',
          name: 'nut at end A',
          whole: 24,
          beyond: 0,
          need: 24,
          from: 'start',
          someOrdersOnly: false,
        },
      ],
      [
        {
          rule: 'straightClamp',
          name: 'clamp grip',
          whole: 30,
          beyond: 0,
          need: 30,
          from: 'end',
          someOrdersOnly: false,
        },
        {
          rule: 'straightFollower',
          name: 'follower',
          whole: 36,
          beyond: 0,
          need: 36,
          from: 'start',
          someOrdersOnly: true,
        },
      ],
      [
        {
          rule: 'tailHeld',
          name: 'follower',
          whole: 36,
          beyond: 25,
          need: 11,
          from: 'start',
          someOrdersOnly: false,
        },
        {
          rule: 'fittingStraight',
          name: 'nut at end B',
          whole: 24,
          beyond: 0,
          need: 24,
          from: 'end',
          someOrdersOnly: false,
        },
      ],
    ])
  })
})
