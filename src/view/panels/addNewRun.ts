import { addRun, freshId } from '../../document/edits.ts'
import type { Fitting, Run, RunEnd, SkidDocument } from '../../document/types.ts'
import { addScaled, distance, unit, type Vec3 } from '../../geometry/vec3.ts'

/** Where a run with a free end starts when nothing says better, and how far it goes. mm. */
const FREE_LENGTH_MM = 300

/** A tag none of the runs has: the last run's with its number counted up, else "L-1". */
export function freshTag(document: SkidDocument, from: string): string {
  const taken = new Set(document.runs.map(r => r.tag))
  const m = /^(.*?)(\d+)(\D*)$/.exec(from)
  const [stem, digits, tail] = m ? [m[1]!, m[2]!, m[3]!] : [from ? `${from}-` : 'L-', '1', '']
  for (let n = Number(digits); ; n++) {
    const tag = `${stem}${String(n).padStart(digits.length, '0')}${tail}`
    if (!taken.has(tag)) return tag
  }
}

/**
 * A new run between two ports ('' for a free end), with the tube and bender of the last run, else of the first
 * bender's first tooling. It leaves each port along its axis and turns half way, so that it can be made at once
 * more often than not; the checks say when not.
 */
export function addNewRun(
  document: SkidDocument,
  fromPort: string,
  toPort: string,
): { document: SkidDocument; run: Run } {
  const like = document.runs.at(-1)
  const bender = document.benders[0]
  const tooling = bender?.tooling[0]
  const od = like?.tube.od ?? tooling?.od ?? 12
  const clr = like?.clr ?? tooling?.clr ?? 36
  const a = document.fittings.find(f => f.id === fromPort) ?? null
  const b = document.fittings.find(f => f.id === toPort) ?? null
  const out = (f: Fitting) => unit(f.axis) ?? ([1, 0, 0] as Vec3)
  const stub = (f: Fitting) => addScaled(f.position, out(f), f.straightNeeded + 2 * clr)
  const atA: Vec3 = a?.position ?? (b ? addScaled(b.position, out(b), FREE_LENGTH_MM) : [0, 0, 100])
  const atB: Vec3 =
    b?.position ?? (a ? addScaled(a.position, out(a), FREE_LENGTH_MM) : [FREE_LENGTH_MM, 0, 100])
  const vertices: Vec3[] = []
  if (a && b) {
    const [p, q] = [stub(a), stub(b)]
    vertices.push(p)
    if (distance(p, q) > clr) vertices.push(q)
  }
  const end = (f: Fitting | null, at: Vec3): RunEnd =>
    f ? { kind: 'port', fitting: f.id } : { kind: 'free', at }
  const run: Run = {
    id: freshId(
      'run',
      document.runs.map(r => r.id),
    ),
    tag: freshTag(document, like?.tag ?? ''),
    service: '',
    tube: like?.tube ?? { catalogueId: null, od, wall: od >= 12 ? 1.5 : 1, material: 'steel' },
    clr,
    bender: like ? like.bender : (bender?.id ?? null),
    endA: end(a, atA),
    vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: end(b, atB),
    trimAllowance: like?.trimAllowance ?? 0,
    insulation: 0,
    quantity: 1,
  }
  return { document: addRun(document, run), run }
}

/** A copy of a run beside it: new id and tag, ends out of their ports, moved aside so that it can be seen. */
export function duplicateRun(document: SkidDocument, run: Run, ends: readonly [Vec3, Vec3]) {
  const aside = (p: Vec3): Vec3 => [p[0], p[1], p[2] + Math.max(50, 3 * run.tube.od)]
  const copy: Run = {
    ...run,
    id: freshId(
      'run',
      document.runs.map(r => r.id),
    ),
    tag: freshTag(document, run.tag),
    endA: { kind: 'free', at: aside(ends[0]) },
    vertices: run.vertices.map(v => ({ ...v, at: aside(v.at) })),
    endB: { kind: 'free', at: aside(ends[1]) },
  }
  return { document: addRun(document, copy), run: copy }
}
