import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { equipmentFor } from '../../src/bender/benchCommand.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { judgeOrder } from '../../src/bender/orderSearch.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { solveRun } from '../../src/solve/solveRun.ts'

function checked(sample: string, tag: string, bender?: string | null) {
  const read = readDocument(readFileSync(`sample-routes/${sample}.json`, 'utf8'))
  if (!read.ok) throw new Error(read.errors[0]!.message)
  const runs = read.document.runs.map(r => (bender === undefined ? r : { ...r, bender }))
  const document = { ...read.document, runs }
  const solved = solveRun(document, document.runs.find(r => r.tag === tag)!)
  const judged = (lead: 'A' | 'B') => {
    const { bender: b, tooling, springback } = equipmentFor(document, solved, {})
    const setup = benchSetup(solved, b, tooling, springback, { trimAt: 'B' })
    return judgeOrder(setup, orderFrom(lead, solved.route!.bends.length))
  }
  return { found: housingCheck(document, solved), judged }
}

describe('can the run be made on its bender', () => {
  test('a run that clears with end A leading has nothing to say', () => {
    const { found, judged } = checked('inch-skid', 'WS-301')
    expect(judged('A').clears).toBe(true)
    expect(found).toEqual([])
  })
  test('one that clears only with end B leading says so, by how much, and what it would hit', () => {
    const { found, judged } = checked('first-route', 'AE-101')
    expect([judged('A').clears, judged('B').clears]).toEqual([false, true])
    expect(found).toHaveLength(1)
    expect(found[0]).toMatchObject({ rule: 'housingOrder', severity: 'note' })
    expect(found[0]!.message).toMatch(/when end A leads; with end B leading it clears by/)
    expect(found[0]!.message).toContain(`clears by ${judged('B').atLeast!.toFixed(1)} mm`)
  })
  test('one that clears in neither plain order names the order that does', () => {
    const { found, judged } = checked('algae-manifold', 'AF-102')
    expect([judged('A').clears, judged('B').clears]).toEqual([false, false])
    expect(found.map(f => f.rule)).toEqual(['housingOrder'])
    expect(found[0]!.message).toMatch(
      /in the order (\d, )+\d, end [AB] leading for all, it clears by|in the order (\d[AB], )+\d[AB], each bend with the end that leads, it clears by/,
    )
  })
  test('one that no order clears is an error with motion, solid and depth', () => {
    const { found } = checked('thirty-runs', 'AE-210')
    expect(found.length).toBeGreaterThan(0)
    for (const f of found) {
      expect(f).toMatchObject({ rule: 'housingClash', severity: 'error', limit: 0, unit: 'mm' })
      expect(f.measured).toBeLessThan(0)
    }
  })
  test('an overrun leg is not swung: not checked, never green', () => {
    const { found } = checked('cannot-be-made', 'CB-301')
    expect(found.every(f => f.severity === 'notChecked' || f.severity === 'error')).toBe(true)
    expect(found.length).toBeGreaterThan(0)
  })
  test('without a bender the housing check is silent: the bender check says that it was not run', () => {
    expect(checked('first-route', 'AE-101', null).found).toEqual([])
  })
})
