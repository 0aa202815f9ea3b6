import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import { benchRun } from '../../src/outputs/benchLayout.ts'
import { setUp } from '../../src/outputs/sheetText.ts'
import { solveRun } from '../../src/solve/solveRun.ts'

const read = readDocument(readFileSync('sample-routes/two-bends.json', 'utf8'))
if (!read.ok) throw new Error(read.errors[0]!.message)
const { document } = read

function setUpLines(tubeOutFirst: boolean): string[] {
  const benders = document.benders.map(b => (tubeOutFirst ? { ...b, tubeOutFirst } : b))
  const own = { ...document, benders }
  const solved = solveRun(own, own.runs[0]!)
  return setUp(benchRun(own, solved), solved, mm => `${mm} mm`, true)
}

test('the sheet of a bender that lets the tube out first says so in its set-up, and no other does', () => {
  const [first, second] = [setUpLines(true), setUpLines(false)]
  expect(first.filter(l => !second.includes(l))).toEqual([
    'After each bend, remove the tube before returning the arm, then reload it. The clearance check assumes this.',
  ])
  expect(second.every(l => first.includes(l))).toBe(true)
})
