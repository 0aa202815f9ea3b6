import { editRun } from '../../src/document/edits.ts'
import { sweep } from '../../src/geometry/swept.ts'
import { sweptGap } from '../../src/geometry/sweptGap.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { createClearanceIndex } from '../../src/skid/clearanceIndex.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import type { Figure } from '../bench/figure.ts'
import { cadKernel, sweptSolid } from '../cadKernel.ts'
import { seeded } from '../random.ts'
import { cadDistance } from './cadDistance.ts'
import { moveRun, randomDocument, randomPlace, randomRun } from './randomScene.ts'

const SEED = 11
const WITHIN = 50
const PAIRS = 25
const BENDS = 6

/** Issue 4's figures on clearance. Every ratio is of two things measured one after the other on this machine. */
export async function skidFigures(): Promise<Figure[]> {
  return [...(await againstCadKernel()), ...growth()]
}

/** Six-bend tubes, outer solids, the same pairs for both. */
async function againstCadKernel(): Promise<Figure[]> {
  const oc = await cadKernel()
  const random = seeded(SEED)
  const pairs = Array.from({ length: PAIRS }, () =>
    (
      [
        ['a', [0, 0, 0]],
        ['b', randomPlace(random, 400)],
      ] as const
    ).map(([id, at]) => {
      const run = randomRun(random, id, at as Vec3, BENDS)
      const solved = solveRun({ ...randomDocument(random, 0, 0, 1), runs: [run] }, run)
      return { pieces: solved.route!.pieces, od: run.tube.od }
    }),
  )
  const swept = pairs.map(two => two.map(t => sweep(t.pieces, t.od / 2)))
  const round = () => {
    for (const [a, b] of swept) sweptGap(a!, b!, Infinity)
  }
  for (let k = 0; k < 40; k++) round()
  let ours = Infinity
  for (let k = 0; k < 20; k++) {
    const start = performance.now()
    round()
    ours = Math.min(ours, (performance.now() - start) / PAIRS)
  }
  // New tubes each time: the halves of arcs are made again, as after an edit.
  const fresh = performance.now()
  for (const two of pairs) {
    const [a, b] = two.map(t => sweep(t.pieces, t.od / 2))
    sweptGap(a!, b!, Infinity)
  }
  const first = (performance.now() - fresh) / PAIRS
  let cad = 0
  for (const two of pairs) {
    const [a, b] = two.map(t => sweptSolid(oc, t.pieces, t.od).solid)
    const times = Array.from({ length: 3 }, () => {
      const start = performance.now()
      cadDistance(oc, a!, b!)
      return performance.now() - start
    })
    cad += Math.min(...times) / PAIRS
    a!.delete()
    b!.delete()
  }
  return [
    {
      name: `certified distance, pair of ${BENDS}-bend tubes (first time, with preparing them)`,
      value: `${(ours * 1000).toFixed(0)} µs (${(first * 1000).toFixed(0)} µs)`,
    },
    {
      name: 'the CAD kernel’s minimum distance on the same pairs ÷ certified distance',
      value: `${(cad / ours).toFixed(0)}×`,
      aim: '≥ 1000×',
    },
  ]
}

const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[times.length >> 1]!

/** Runs of up to six bends strewn at one density, a fifth as many solids, and a floor. */
function growth(): Figure[] {
  const figures: Figure[] = []
  for (const runs of [100, 300, 1000]) {
    const random = seeded(SEED)
    const side = 400 * Math.cbrt(runs)
    let document = randomDocument(random, runs, runs / 5, side)
    let solved = solveDocument(document)
    let index = createClearanceIndex(WITHIN)
    let measured = 0
    const fullTimes: number[] = []
    for (let k = 0; k < 3; k++) {
      index = createClearanceIndex(WITHIN)
      const start = performance.now()
      measured = index.update(document, solved)
      fullTimes.push(performance.now() - start)
    }
    const full = median(fullTimes)
    const editTimes: number[] = []
    const EDITS = 61
    for (let k = 0; k < EDITS; k++) {
      const id = `r${random.whole(0, runs - 1)}`
      document = editRun(document, id, r => moveRun(r, randomPlace(random, 20)))
      // As in the app: only the edited run is solved anew.
      solved = solved.map((s, i) => (s.runId === id ? solveRun(document, document.runs[i]!) : s))
      const start = performance.now()
      index.update(document, solved)
      editTimes.push(performance.now() - start)
    }
    const again = median(editTimes)
    figures.push({
      name: `full check, ${runs} runs within ${WITHIN} mm, ${measured} pairs measured (edit re-check)`,
      value: `${full.toFixed(0)} ms (${again.toFixed(2)} ms)`,
    })
    figures.push({
      name: `full check ÷ edit re-check, ${runs} runs`,
      value: `${(full / again).toFixed(0)}×`,
      ...(runs === 1000 ? { aim: '≥ 200×' } : {}),
    })
  }
  return figures
}
