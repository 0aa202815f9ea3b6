import { describe, expect, it } from 'vitest'
import { orderFrom } from '../src/bench/layOut.ts'
import { type BenchAnswer, type BenchRequest, doBenchJob } from '../src/benchWorker.ts'
import { toolingOf } from '../src/document/lookUp.ts'
import { solveRun } from '../src/solve/solveRun.ts'
import { benchDocument } from './view/benchDocument.ts'

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

function answersTo(request: BenchRequest): BenchAnswer[] {
  const answers: BenchAnswer[] = []
  // What a worker can send is what survives a structured clone.
  doBenchJob(structuredClone(request), a => answers.push(structuredClone(a)))
  return answers
}

describe('the bench worker', () => {
  it('gives one clearance per step, tells how far it is, and every answer carries the request number', () => {
    const answers = answersTo({ id: 7, kind: 'clearances', work: work(), order: orderFrom('A', 3) })
    expect(answers.every(a => a.id === 7)).toBe(true)
    expect(answers.filter(a => a.kind === 'progress')).toHaveLength(3)
    const last = answers.at(-1)!
    if (last.kind !== 'clearances') throw new Error(last.kind)
    expect(last.steps.map(s => s.step.bend)).toEqual([0, 1, 2])
    for (const s of last.steps) for (const m of s.motions) expect(m.atLeast).not.toBeNull()
  })

  it('finds an order at least as good as A first and B first', () => {
    const last = answersTo({ id: 1, kind: 'orders', work: work() }).at(-1)!
    if (last.kind !== 'orders') throw new Error(last.kind)
    const { best, aFirst, bFirst, exact } = last.found
    expect(exact).toBe(true)
    expect(best.atLeast!).toBeGreaterThanOrEqual(Math.max(aFirst.atLeast!, bFirst.atLeast!) - 0.05)
  })

  it('answers a run without a route with the reason', () => {
    const { solved, ...rest } = work()
    const answers = answersTo({
      id: 2,
      kind: 'clearances',
      work: { ...rest, solved: { ...solved, route: null } },
      order: orderFrom('A', 3),
    })
    expect(answers).toEqual([{ id: 2, kind: 'failed', reason: expect.stringContaining('run T-1') }])
  })
})
