import { PLAIN_FRAME, rowsOf, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import { type Figure, perCall } from '../measure/figure.ts'
import { seeded } from '../random.ts'

/** Solve cost per bend against the trigonometry that no solver can do without: two atan2, one tan, three roots. */
export async function solveFigures(): Promise<Figure[]> {
  const random = seeded(1)
  const bends = Array.from({ length: 10 }, () => ({
    angle: random.between(20, 120),
    rotation: random.between(-170, 170),
  }))
  const straights = Array.from({ length: 11 }, () => random.between(30, 300))
  const points = rowsToPoints({ straights, bends }, 38, PLAIN_FRAME)
  const ids = points.map((_, i) => `p${i}`)
  let sink = 0
  const trigonometry = perCall(() => {
    for (let k = 1; k <= 10; k++) {
      const a = points[k - 1]!
      const b = points[k]!
      const x = b[0] - a[0]
      const y = b[1] - a[1]
      const z = b[2] - a[2]
      const angle = Math.atan2(Math.sqrt(x * x + y * y), z)
      sink +=
        angle + Math.atan2(y, x) + Math.tan(angle / 2) + Math.sqrt(y * y + z * z) + Math.sqrt(x * x + z * z)
    }
  })
  const solving = perCall(() => {
    const result = solveRoute(points, ids, 38)
    if (result.ok) sink += result.route.developedLength
  })
  const result = solveRoute(points, ids, 38)
  if (!result.ok) throw new Error(result.problem.message)
  const rows = rowsOf(result.route)
  const back = perCall(() => {
    sink += rowsToPoints(rows, 38, PLAIN_FRAME).length
  })
  if (!Number.isFinite(sink)) throw new Error('solveFigures: the work came out as no number')
  return [
    {
      name: 'solve with its exact centre line, per bend, against the bare trigonometry',
      value: `${(solving / trigonometry).toFixed(1)} x (${((solving / 10) * 1e6).toFixed(0)} ns)`,
      aim: '≤ 5 x',
    },
    {
      name: 'rows to points, per bend, against the bare trigonometry',
      value: `${(back / trigonometry).toFixed(1)} x`,
    },
  ]
}
