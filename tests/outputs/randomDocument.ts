import type { Run, SkidDocument } from '../../src/document/types.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import type { Random } from '../random.ts'
import { SAMPLE } from './sampleDocument.ts'

/** One run with this many bends between free ends, on the sample's bender; rows drawn at random. */
export function randomDocument(random: Random, bends: number): SkidDocument {
  const rows = {
    straights: Array.from({ length: bends + 1 }, () => random.between(30, 260)),
    bends: Array.from({ length: bends }, () => ({
      angle: random.next() < 0.4 ? 90 : random.between(8, 140),
      rotation: random.next() < 0.4 ? [0, 90, -90, 180][random.whole(0, 3)]! : random.between(-180, 180),
    })),
  }
  const points = rowsToPoints(rows, 36, { ...PLAIN_FRAME, origin: [random.between(-99, 99), 0, 40] })
  const run: Run = {
    ...SAMPLE.runs[0]!,
    endA: { kind: 'free', at: points[0]! },
    endB: { kind: 'free', at: points[points.length - 1]! },
    vertices: points.slice(1, -1).map((at, i) => ({ id: `v${i + 1}`, at })),
  }
  return { ...SAMPLE, runs: [run] }
}
