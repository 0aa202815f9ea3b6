import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument, solveRoute } from '../../src/solve/solveRun.ts'
import { colourGroups, GROUP_COLOURS, stateOfRun } from '../../src/view/colouring/groups.ts'
import { isLight, tubeBands } from '../../src/view/scene/tubeBands.ts'
import { fewRuns } from '../browser/fewRuns.ts'

const OD = 12
const POINTS: Vec3[] = [
  [0, 0, 0],
  [500, 0, 0],
  [500, 0, 120],
  [500, 900, 120],
]
const solved = solveRoute(POINTS, ['A', 'p', 'q', 'B'], 36)
if (!solved.ok) throw new Error(solved.problem.message)
const { pieces } = solved.route

/** Stretches of the first straight that the bands cover, from its start, mm. */
function covered(positions: Float32Array): [number, number][] {
  const xs = new Set<number>()
  for (let i = 0; i < positions.length; i += 3)
    if (Math.abs(positions[i + 1]!) < 20 && Math.abs(positions[i + 2]!) < 20)
      xs.add(Math.round(positions[i]! * 1e3) / 1e3)
  const sorted = [...xs].sort((a, b) => a - b)
  return sorted.flatMap((x, i) => (i % 2 === 0 ? [[x, sorted[i + 1]!] as [number, number]] : []))
}

describe('colours of groups', () => {
  test('are in the style sheet that is there when the picture reads its colours, light and dark', () => {
    const style = readFileSync('src/view/theme.css', 'utf8')
    for (const name of GROUP_COLOURS)
      expect(style.match(new RegExp(`--${name}: #`, 'g'))?.length ?? 0, name).toBe(2)
  })
})

describe('bands round a tube', () => {
  test('a code is as many bands as wide as it says, and lies on the straight', () => {
    const mesh = tubeBands(pieces, OD, [1, 3], true)
    expect(mesh).not.toBeNull()
    const all = tubeBands(pieces, OD, [1, 3], false)!
    const first = covered(all.positions)
    expect(first.length % 2).toBe(0)
    for (let i = 0; i < first.length; i += 2) {
      expect(first[i]![1] - first[i]![0]).toBeCloseTo(OD, 2)
      expect(first[i + 1]![1] - first[i + 1]![0]).toBeCloseTo(3 * OD, 2)
    }
    expect(first[0]![0]).toBeGreaterThan(0)
    expect(first.at(-1)![1]).toBeLessThan(500 - 36)
  })

  test('where no straight has the room, and without a code, there are none', () => {
    expect(tubeBands(pieces, OD, [], false)).toBeNull()
    expect(tubeBands(pieces, 300, [3, 3], false)).toBeNull()
  })

  test('sparse marks only the longest straight', () => {
    const mesh = tubeBands(pieces, OD, [1], true)!
    const ys = [...mesh.positions].filter((_, i) => i % 3 === 1)
    expect(Math.min(...ys)).toBeGreaterThan(36)
  })

  test('every kind and every state has a code of its own, whatever its colour', () => {
    const kinds = Array.from({ length: 7 }, (_, i) => ({ ...fewRuns().runs[i]!, service: `service ${i}` }))
    const document = { ...fewRuns(), runs: kinds }
    const none = { byRun: new Map(), complete: true, accepted: new Set<string>() }
    const codes = colourGroups(document, 'service', 'mm', new Map(), none).map(g => g.bands.join())
    expect(new Set(codes).size).toBe(7)
    expect(codes.every(c => c !== '')).toBe(true)
  })

  test('dark bands on light tubes, light ones on dark', () => {
    expect(isLight({ r: 1, g: 1, b: 1 })).toBe(true)
    expect(isLight({ r: 0.02, g: 0.01, b: 0.1 })).toBe(false)
    expect(GROUP_COLOURS).toContain('state-accepted')
  })
})

describe('state of a run', () => {
  const document = fewRuns()
  const [run] = document.runs
  const own = solveDocument(document)[0]!
  const finding = (id: string, severity: 'error' | 'warning' | 'note' | 'notChecked') =>
    ({
      id,
      severity,
      rule: 'x',
      where: { run: run!.id, kind: 'run', index: null },
      measured: 1,
      limit: 2,
      unit: 'mm',
      message: '',
      sentence: [],
    }) as never
  const state = (all: never[], accepted: string[], complete = true) =>
    stateOfRun(run!, own, { byRun: new Map([[run!.id, all]]), complete, accepted: new Set(accepted) })

  test('what is accepted is not open, and what is open beside it counts', () => {
    expect(state([finding('a', 'warning')], [])).toBe('warning')
    expect(state([finding('a', 'warning')], ['a'])).toBe('accepted')
    expect(state([finding('a', 'warning'), finding('n', 'note')], ['a'])).toBe('accepted')
    expect(state([finding('a', 'warning'), finding('e', 'error')], ['a'])).toBe('error')
    expect(state([finding('a', 'warning'), finding('q', 'notChecked')], ['a'])).toBe('notChecked')
    expect(state([finding('n', 'note')], [])).toBe('note')
    expect(state([], [])).toBe('ok')
    expect(state([], [], false)).toBe('notChecked')
  })
})
