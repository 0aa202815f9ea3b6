import { emptyDocument } from '../src/document/newDocument.ts'
import type { Run, SkidDocument, Tube } from '../src/document/types.ts'
import type { Vec3 } from '../src/geometry/vec3.ts'
import { seeded } from './random.ts'

const SIZES: readonly { readonly tube: Tube; readonly clr: number }[] = [
  { tube: { catalogueId: 'mm-6-1', od: 6, wall: 1, material: '316' }, clr: 18 },
  { tube: { catalogueId: 'mm-8-1', od: 8, wall: 1, material: '316' }, clr: 24 },
  { tube: { catalogueId: 'mm-10-1', od: 10, wall: 1, material: '316' }, clr: 30 },
  { tube: { catalogueId: 'mm-12-1.5', od: 12, wall: 1.5, material: '316' }, clr: 36 },
]
const SERVICES = ['instrument air', 'sea water sample', 'algae feed', 'drain'] as const

/** Between neighbouring runs of a bank, mm: what is asked for between the thickest, and a little. */
const PITCH = 40

/**
 * Banks of parallel tubes of ten bends each, as on the rack of a large skid; invented. A few of them lie too near to
 * their neighbour, so that there is something to find.
 */
export function manyRuns(count: number, seed = 5): SkidDocument {
  const random = seeded(seed)
  const across = Math.ceil(Math.sqrt(count))
  const runs = Array.from({ length: count }, (_, k): Run => {
    const { tube, clr } = SIZES[random.whole(0, SIZES.length - 1)]!
    const slip = random.next() < 0.02 ? 32 : 0
    const [x, z] = [(k % across) * PITCH + slip, 400 + Math.floor(k / across) * PITCH]
    const points: Vec3[] = [[x, 0, z]]
    for (let step = 1; step <= 5; step++) {
      const aside = step % 2 === 1 ? 150 : 0
      points.push([x + (step % 2 === 1 ? 0 : 150), step * 260 - 130, z], [x + aside, step * 260, z + 0])
    }
    const vertices = points.slice(1).map((at, i) => ({ id: `v${i + 1}`, at }))
    const last = vertices.at(-1)!.at
    return {
      id: `run${k + 1}`,
      tag: `R-${String(k + 1).padStart(4, '0')}`,
      service: SERVICES[Math.floor(k / across) % SERVICES.length]!,
      tube,
      clr,
      bender: null,
      endA: { kind: 'free', at: points[0]! },
      vertices,
      endB: { kind: 'free', at: [last[0], last[1] + 260, last[2]] },
      trimAllowance: 0,
      insulation: 0,
      quantity: 1,
    }
  })
  return { ...emptyDocument(`${count} runs, invented`), invented: true, runs }
}
