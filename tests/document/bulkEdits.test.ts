import { describe, expect, test } from 'vitest'
import { changeOutcome } from '../../src/checks/changeOutcome.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import { changeRuns, type RunChange, removeRuns } from '../../src/document/bulkEdits.ts'
import { knownBender } from '../../src/document/knownBenders.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { manyRuns } from '../manyRuns.ts'

const bender = knownBender('bench-left')!.bender
const skid: SkidDocument = { ...manyRuns(12), benders: [bender] }
const some = new Set(['run2', 'run5', 'run9'])

function made(change: RunChange, ids: ReadonlySet<string> = some): SkidDocument {
  const answer = changeRuns(skid, ids, change)
  if ('refused' in answer) throw new Error(answer.refused.join())
  return answer
}
const refused = (change: RunChange, ids: ReadonlySet<string> = some) => {
  const answer = changeRuns(skid, ids, change)
  return 'refused' in answer ? answer.refused : null
}

describe('a change of many runs', () => {
  test('changes what is named on the picked runs and nothing else', () => {
    const after = made({ insulation: 19, service: ' warm sea water ' })
    after.runs.forEach((run, i) => {
      const before = skid.runs[i]!
      if (some.has(run.id)) expect(run).toEqual({ ...before, insulation: 19, service: 'warm sea water' })
      else expect(run).toBe(before)
    })
  })
  test('a size brings OD, wall and catalogue id, and leaves each run its material', () => {
    const after = made({ size: { catalogueId: 'mm-10-1', od: 10, wall: 1 } })
    expect(after.runs[1]!.tube).toEqual({ catalogueId: 'mm-10-1', od: 10, wall: 1, material: '316' })
    expect(made({ material: 'copper' }).runs[1]!.tube).toEqual({ ...skid.runs[1]!.tube, material: 'copper' })
  })
  test('a run that has all of it already stays the same object, and so does the document', () => {
    expect(made({ quantity: 1, insulation: 0, material: '316' })).toBe(skid)
    const once = changeRuns(skid, new Set(['run1', 'run2']), {
      size: { ...skid.runs[0]!.tube },
    }) as SkidDocument
    expect(once.runs[0]).toBe(skid.runs[0])
  })
  test('is refused as a whole, with every reason named', () => {
    expect(refused({ size: { catalogueId: null, od: 6, wall: 3 }, clr: 0, insulation: -1 })).toEqual([
      'A wall of 3 mm leaves no bore in an OD of 6 mm.',
      'CLR is 0 mm; it must be above 0.',
      'Insulation is -1 mm; it must be 0 or more.',
    ])
    expect(refused({ quantity: 1.5 })).toEqual(['Quantity is 1.5; it must be a whole number of 1 or more.'])
    expect(refused({ bender: 'gone' })).toEqual(['The skid has no bender "gone".'])
    expect(refused({ material: '  ' })).toHaveLength(1)
    expect(refused({ clr: Number.NaN })).toHaveLength(1)
    expect(refused({ clr: 30 }, new Set())).toEqual(['No run is selected.'])
    expect(refused({ clr: 30 }, new Set(['run1', 'x']))).toEqual(['The skid has no run "x".'])
  })
  test('runs are deleted with the supports that hold them', () => {
    const held: SkidDocument = {
      ...skid,
      supports: ['run2', 'run3'].map(run => ({
        id: `s-${run}`,
        name: '',
        type: 'clamp',
        run,
        at: [0, 0, 0],
      })),
    }
    const after = removeRuns(held, some)
    expect(after.runs.map(r => r.id)).toEqual(skid.runs.map(r => r.id).filter(id => !some.has(id)))
    expect(after.supports.map(s => s.run)).toEqual(['run3'])
  })
})

describe('what a change of many runs comes to', () => {
  test('counts by rule what a full check of both documents counts', () => {
    const after = made({ clr: 400 }, new Set(skid.runs.map(r => r.id)))
    const tally = (document: SkidDocument) => {
      const counts = new Map<string, number>()
      for (const { rule } of runChecks(document, solveDocument(document)).findings)
        counts.set(rule, (counts.get(rule) ?? 0) + 1)
      return counts
    }
    const [before, now] = [tally(skid), tally(after)]
    const outcome = changeOutcome(skid, after)
    expect(outcome.changed).toBe(12)
    const wanted = [...new Set([...before.keys(), ...now.keys()])]
      .filter(rule => before.get(rule) !== now.get(rule))
      .map(rule => [rule, before.get(rule) ?? 0, now.get(rule) ?? 0])
    expect(outcome.rules.map(r => [r.rule, r.before, r.after]).sort()).toEqual(wanted.sort())
    expect(outcome.rules[0]).toMatchObject({ rule: 'legOverrun', severity: 'error', before: 0 })
  })
  test('runs that are not touched are not counted', () => {
    expect(changeOutcome(skid, made({ insulation: 5 })).changed).toBe(3)
    expect(changeOutcome(skid, skid)).toEqual({ changed: 0, rules: [] })
  })
})
