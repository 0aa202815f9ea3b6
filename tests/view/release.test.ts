import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { benchSetup } from '../../src/bender/housing.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { judgeOrder } from '../../src/bender/orderSearch.ts'
import { allFindings } from '../../src/checks/allFindings.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { programmeOf } from '../../src/view/bending/programme.ts'
import { releaseOf } from '../../src/view/bending/release.ts'
import type { Clearing } from '../../src/view/bending/useClearances.ts'

/** The release of a sample's first run with one end leading, all checks done. */
function released(sample: string, lead: 'A' | 'B', isAccepted = false) {
  const read = readDocument(readFileSync(`sample-routes/${sample}.json`, 'utf8'))
  if (!read.ok) throw new Error(sample)
  const { document } = read
  const [solved] = solveDocument(document)
  const findings = allFindings(document, [solved!])
  const made = programmeOf(document, document.runs[0]!, solved!, orderFrom(lead, solved!.route!.bends.length))
  if (!made.ok) throw new Error(made.reason)
  const { bender, tooling, springback } = made.programme
  const setup = benchSetup(solved!, bender, tooling, springback, { trimAt: 'B' })
  const { steps } = judgeOrder(setup, orderFrom(lead, solved!.route!.bends.length))
  const acceptances = isAccepted
    ? findings.map(f => ({
        ...({ finding: f.id, category: 'other', reason: 'seen', by: 'T', on: '2026-01-01' } as const),
        ...{ measured: f.measured, limit: f.limit },
      }))
    : []
  const of = (clearing: Clearing, complete = true) =>
    releaseOf(solved!, findings, acceptances, clearing, complete)
  return { of, known: of({ kind: 'known', steps }) }
}

describe('a run at the bench', () => {
  it('is released when nothing is open and every check was made', () => {
    expect(released('two-bends', 'A').known).toMatchObject({ state: 'released', because: [] })
  })
  it('is not released with an error open, and says which', () => {
    const { known } = released('first-route', 'B')
    expect(known).toMatchObject({ state: 'open', text: 'NOT RELEASED' })
    expect(known.because.map(d => d.finding.rule)).toEqual(['fittingStraight'])
  })
  it('is not released in an order that hits the bender, though another one clears', () => {
    const { because } = released('first-route', 'A').known
    expect(because.map(d => d.finding.rule)).toContain('housingClash')
  })
  it('is released once what is open was accepted', () => {
    expect(released('first-route', 'B', true).known.state).toBe('released')
  })
  it('is not released before its checks are done, nor without one that could not be made', () => {
    const { of } = released('two-bends', 'A')
    expect(of({ kind: 'running', done: 1, of: 2 }).state).toBe('checking')
    expect(of({ kind: 'notChecked', reason: 'no solids' })).toMatchObject({
      state: 'open',
      text: 'NOT FULLY CHECKED',
    })
    expect(of({ kind: 'known', steps: [] }, false).state).toBe('checking')
  })
})
