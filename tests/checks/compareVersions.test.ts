import { describe, expect, test } from 'vitest'
import { compareFindings } from '../../src/checks/compareFindings.ts'
import { compareParts } from '../../src/checks/compareParts.ts'
import { compareVersions, isSame } from '../../src/checks/compareVersions.ts'
import { createVersionJob } from '../../src/checks/versionFindings.ts'
import { movePoint } from '../../src/document/edits.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import type { Rule } from '../../src/findings/rules.ts'
import { compareText, namesOfBoth } from '../../src/outputs/compareText.ts'
import { SAMPLE } from '../outputs/sampleDocument.ts'

const box: Solid = {
  id: 's1',
  name: 'Invented frame',
  kind: 'structure',
  fitting: null,
  shape: 'box',
  at: [0, 0, 0],
  size: [10, 20, 30],
  turn: [0, 0, 0],
}
const document: SkidDocument = { ...SAMPLE, solids: [box] }
const run = document.runs[0]!
const vertex = run.vertices[1]!

describe('comparing all of two versions', () => {
  test('the same version twice is the same, and its text says so', () => {
    const found = compareVersions(document, structuredClone(document), { before: [], after: [] })
    expect(isSame(found)).toBe(true)
    expect(compareText(found, namesOfBoth(document, document))).toContain('0 changed')
  })

  test('the largest move names the point as it is numbered on screen, with its way', () => {
    const [x, y, z] = vertex.at
    const later = movePoint(document, run.id, vertex.id, [x + 15, y, z + 20])
    const move = compareVersions(document, later, null).moves.get(run.id)!
    expect(move.point).toBe('point 3')
    expect(move.by).toBeCloseTo(25, 9)
    expect(compareText(compareVersions(document, later, null), id => id)).toContain('point 3 moved 25 mm')
  })

  test('a moved fitting moves the end of every run in it', () => {
    const later = {
      ...document,
      fittings: document.fittings.map(f => (f.id === 'f1' ? { ...f, position: [0, 0, 507] as const } : f)),
    }
    const found = compareVersions(document, later, null)
    expect(found.moves.get(run.id)).toMatchObject({ point: 'end A', by: 7 })
    expect(found.others.parts).toMatchObject([
      {
        kind: 'fitting',
        changed: [{ name: 'f1', changes: [{ what: 'z', before: 500, after: 507, unit: 'mm' }] }],
      },
    ])
  })

  test('solids, supports and clearances: added, removed, changed, each figure with both values', () => {
    const later: SkidDocument = {
      ...document,
      solids: [
        { ...box, size: [10, 25, 30], turn: [0, 0, 5] },
        { ...box, id: 's2', name: 'Invented door' },
      ],
      supports: [{ id: 'u', name: 'U1', type: 'clip', run: run.id, at: [1, 2, 3] }],
      clearances: { ...document.clearances, tube: document.clearances.tube + 2 },
      supportSpan: 900,
    }
    const { parts, settings } = compareParts(document, later)
    expect(parts.map(p => p.kind)).toEqual(['solid', 'support'])
    expect(parts[0]!.added.map(p => p.name)).toEqual(['Invented door'])
    expect(parts[0]!.changed[0]!.changes).toEqual([
      { what: 'size y', before: 20, after: 25, unit: 'mm' },
      { what: 'turn z', before: 0, after: 5, unit: 'deg' },
    ])
    expect(parts[1]!.added).toEqual([{ id: 'u', name: 'U1' }])
    expect(settings.map(c => c.what)).toEqual(['clearance to tubes', 'maximum span between supports'])
    expect(settings[1]).toMatchObject({ before: null, after: 900 })
    expect(compareParts(later, document).parts[0]!.removed.map(p => p.name)).toEqual(['Invented door'])
  })

  test('a bender whose tooling, springback or solids are others says which figure, before and now', () => {
    const [bender] = document.benders
    const [tooling] = bender!.tooling
    const later = {
      ...bender!,
      tooling: [{ ...tooling!, clampGrip: 35, stretchAt90: 0.8 }],
      springback: bender!.springback.map(s => ({ ...s, offset: 2 })),
      benchTop: -50,
    }
    const [found] = compareParts(document, { ...document, benders: [later] }).parts
    const of = `tooling OD ${tooling!.od}, CLR ${tooling!.clr}`
    const [grip, stretch, springback, solids] = found!.changed[0]!.changes
    expect(grip).toEqual({ what: `${of}: clamp grip`, before: 30, after: 35, unit: 'mm' })
    expect(stretch).toEqual({ what: `${of}: stretch at 90°`, before: null, after: 0.8, unit: 'mm' })
    expect(springback).toMatchObject({
      what: 'springback of 316: offset',
      before: 1.2,
      after: 2,
      unit: 'deg',
    })
    expect(solids).toMatchObject({ what: 'solids' })
    expect(solids!.before).not.toBe(solids!.after)
  })

  test('what goes first after a bend is told when it is another', () => {
    const later = document.benders.map(b => ({ ...b, tubeOutFirst: true }))
    const [found] = compareParts(document, { ...document, benders: later }).parts
    expect(found!.changed[0]!.changes).toEqual([
      { what: 'after each bend', before: 'arm back first', after: 'tube out first', unit: '' },
    ])
    const said = document.benders.map(b => ({ ...b, tubeOutFirst: false }))
    expect(compareParts(document, { ...document, benders: said }).parts).toEqual([])
  })

  test('an accepted finding is called by what it is about, not by its id', () => {
    const acceptance = {
      finding: `clearance:${run.id}:s1`,
      category: 'agreed',
      reason: 'r',
      by: 'b',
      on: '2026-11-25',
      measured: 5,
      limit: 10,
    } as const
    const [found] = compareParts(document, {
      ...document,
      solids: [],
      acceptances: [acceptance],
    }).parts.slice(-1)
    expect(found!.added).toEqual([
      { id: acceptance.finding, name: `clearance: ${run.tag} and Invented frame` },
    ])
  })

  test('a solid that became another shape has the figures of both, null where a shape has none', () => {
    const sphere: Solid = {
      id: 's1',
      name: box.name,
      kind: box.kind,
      fitting: null,
      shape: 'sphere',
      at: box.at,
      radius: 4,
    }
    const { changes } = compareParts(document, { ...document, solids: [sphere] }).parts[0]!.changed[0]!
    expect(changes).toContainEqual({ what: 'shape', before: 'box', after: 'sphere', unit: '' })
    expect(changes).toContainEqual({ what: 'size x', before: 10, after: null, unit: 'mm' })
    expect(changes).toContainEqual({ what: 'radius', before: null, after: 4, unit: 'mm' })
  })
})

const finding = (over: Partial<Finding>): Finding => ({
  id: 'clearance:r1:s1',
  rule: 'tooClose',
  severity: 'warning',
  where: { run: 'r1', kind: 'pair', index: null, other: 's1' },
  measured: 5,
  limit: 10,
  unit: 'mm',
  ...told(say`m`),
  ...over,
})
const unrun = (rule: Rule, run: string | null, other?: string): Finding =>
  finding({
    id: `${rule}:${run}`,
    rule,
    severity: 'notChecked',
    where: { run, kind: 'run', index: null, ...(other === undefined ? {} : { other }) },
  })

describe('findings of two versions', () => {
  test('appeared, gone, and moved past 0.1 either way; a note is none of them', () => {
    const ids = (list: readonly Finding[]) => list.map(f => f.id)
    const before = [finding({}), finding({ id: 'x' }), finding({ id: 'n', severity: 'note' })]
    const found = compareFindings(before, [finding({ measured: 4.85 }), finding({ id: 'y' })])
    expect(ids(found.appeared)).toEqual(['y'])
    expect(ids(found.gone)).toEqual(['x'])
    expect(found.worse).toMatchObject([{ before: 5, after: 4.85 }])
    expect(compareFindings([finding({})], [finding({ measured: 4.95 })])).toMatchObject({
      worse: [],
      same: 1,
    })
    expect(compareFindings([finding({})], [finding({ measured: 5.2 })]).better.length).toBe(1)
    const over = finding({ rule: 'angleBeyondStop', measured: 190, limit: 180, unit: 'deg' })
    expect(compareFindings([over], [{ ...over, measured: 191 }]).worse.length).toBe(1)
    expect(compareFindings([over], [{ ...over, measured: 189 }]).better.length).toBe(1)
  })

  test('what was not checked in one version is neither new nor gone', () => {
    const found = compareFindings([finding({})], [unrun('clearanceNotChecked', 'r1')])
    expect([found.gone.length, found.notKnownNow.length]).toEqual([0, 1])
    const whole = compareFindings([unrun('clearanceNotChecked', null)], [finding({})])
    expect([whole.appeared.length, whole.notKnownBefore.length]).toEqual([0, 1])
    // Another run's, or another check's, does not count.
    expect(compareFindings([finding({})], [unrun('clearanceNotChecked', 'r2')]).gone.length).toBe(1)
    expect(compareFindings([finding({})], [unrun('housingNotChecked', 'r1')]).gone.length).toBe(1)
  })

  test('a part of a model that was not checked as a whole is not known', () => {
    const part = finding({ where: { run: 'r1', kind: 'pair', index: null, other: 'm1/wall' } })
    expect(compareFindings([part], [unrun('clearanceNotChecked', null, 'm1')]).notKnownNow).toEqual([part])
    expect(compareFindings([part], [unrun('clearanceNotChecked', null, 'm2')]).gone).toEqual([part])
  })

  test('a part gone from a model’s file was not known before when the file was not at hand', () => {
    const gone = finding({
      id: 'modelPartGone:m1/wall',
      rule: 'modelPartGone',
      where: { run: null, kind: 'pair', index: null, other: 'm1' },
    })
    const found = compareFindings([unrun('clearanceNotChecked', null, 'm1')], [gone])
    expect([found.appeared, found.notKnownBefore]).toEqual([[], [gone]])
  })

  test('what was not checked is told apart by version, and stands in the text with its sentence', () => {
    const lost = {
      ...unrun('clearanceNotChecked', null, 'm1'),
      ...told(say`Tray: its file tray.glb is not at hand.`),
    }
    const [same, more] = [unrun('benderChecks', 'r1'), unrun('benderChecks', 'r2')]
    const found = compareFindings([lost, same], [same, more])
    expect(found.notChecked).toEqual({ before: [lost], now: [more], both: [same] })
    const text = compareText(
      { ...compareVersions(document, document, null), findings: found },
      namesOfBoth(document, document),
    )
    expect(text).toMatch(/not checked in the earlier version\n.*tray\.glb is not at hand/)
  })

  test('an earlier version is checked by the same checks', () => {
    const found = createVersionJob().answer({ document })
    expect(compareFindings(found, found)).toMatchObject({
      appeared: [],
      gone: [],
      worse: [],
    })
  })
})
