import { expect, test } from 'vitest'
import { runChecks } from '../../src/checks/runChecks.ts'
import { editRun } from '../../src/document/edits.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { fastFindings } from '../../src/store/checked.ts'
import { solvedRuns } from '../../src/store/derived.ts'
import { prepare } from '../../src/store/prepare.ts'
import { manyRuns } from '../manyRuns.ts'

/** Some of whose runs have something to say: without a bender, each is not checked for it. */
const skid = () => editRun(manyRuns(40), 'run7', run => ({ ...run, clr: 200 }))

test('a prepared document has the answers of one that was not, in the same order', async () => {
  const document = skid()
  expect(await prepare(document)).toBe(true)
  const solved = solveDocument(document)
  expect(solvedRuns(document)).toEqual(solved)
  const { findings } = runChecks(document, solved)
  expect(findings.length).toBeGreaterThan(40)
  expect(fastFindings(document)).toEqual(findings)
})

test('what was prepared is looked up: no run is solved or checked again when the document is shown', async () => {
  const document = skid()
  const reads: string[] = []
  const runs = document.runs.map(
    run =>
      new Proxy(run, {
        get(target, key) {
          if (key === 'vertices') reads.push(target.id)
          return Reflect.get(target, key)
        },
      }),
  )
  const watched = { ...document, runs }
  await prepare(watched)
  expect(new Set(reads).size).toBe(40)
  reads.length = 0
  solvedRuns(watched)
  fastFindings(watched)
  expect(reads).toEqual([])
})

test('checks made ahead for one document do not answer for another with the same runs', async () => {
  const document = skid()
  await prepare(document)
  const other = { ...document, supportSpan: 50 }
  expect(fastFindings(other)).toEqual(runChecks(other, solveDocument(other)).findings)
})

test('the page has its turn after every slice, and can call the rest off', async () => {
  const document = skid()
  const turns: number[] = []
  let elsewhere = 0
  const timer = setInterval(() => elsewhere++)
  const goOn = (done: number) => {
    turns.push(done)
    return true
  }
  expect(await prepare(document, goOn, 0)).toBe(true)
  clearInterval(timer)
  expect(turns).toEqual([...document.runs.keys()].map(i => i + 1).concat(40))
  expect(elsewhere).toBeGreaterThan(5)
  expect(await prepare(skid(), done => done < 3, 0)).toBe(false)
})
