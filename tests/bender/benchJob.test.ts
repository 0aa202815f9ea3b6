import { describe, expect, it } from 'vitest'
import { type BenchProgress, type BenchRequest, doBenchJob } from '../../src/bender/benchJob.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { toolingOf } from '../../src/document/lookUp.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { benchDocument } from '../view/benchDocument.ts'

function work() {
  const { document, run } = benchDocument()
  const bender = document.benders[0]!
  return {
    solved: solveRun(document, run),
    bender,
    tooling: toolingOf(bender, run)!,
    springback: bender.springback[0]!,
  }
}

function answerTo(request: BenchRequest) {
  const told: BenchProgress[] = []
  // What a worker can send is what survives a structured clone.
  const answer = structuredClone(doBenchJob(structuredClone(request), p => told.push(structuredClone(p))))
  return { answer, told }
}

describe('the job of the bench worker', () => {
  it('gives one clearance per step and tells how far it is', () => {
    const { answer, told } = answerTo({ kind: 'clearances', work: work(), order: orderFrom('A', 3) })
    expect(told).toEqual([1, 2, 3].map(done => ({ done, of: 3 })))
    if (answer.kind !== 'clearances') throw new Error(answer.kind)
    expect(answer.steps.map(s => s.step.bend)).toEqual([0, 1, 2])
    for (const s of answer.steps) for (const m of s.motions) expect(m.atLeast).not.toBeNull()
  })

  it('finds an order at least as good as A first and B first', () => {
    const { answer } = answerTo({ kind: 'orders', work: work() })
    if (answer.kind !== 'orders') throw new Error(answer.kind)
    const { best, aFirst, bFirst, exact } = answer.found
    expect(exact).toBe(true)
    expect(best.atLeast!).toBeGreaterThanOrEqual(Math.max(aFirst.atLeast!, bFirst.atLeast!) - 0.05)
  })

  it('throws the reason for a run without a route', () => {
    const { solved, ...rest } = work()
    const routeless = { ...rest, solved: { ...solved, route: null } }
    expect(() => answerTo({ kind: 'clearances', work: routeless, order: orderFrom('A', 3) })).toThrow(
      'run T-1',
    )
  })
})
