import { MATERIALS } from '../../catalogue/materials.ts'
import { TUBE_SIZES } from '../../catalogue/tubeSizes.ts'
import { runChecks } from '../../checks/runChecks.ts'
import { addRun, freshId } from '../../document/edits.ts'
import { SAME_FIGURE_MM } from '../../document/lookUp.ts'
import type { Fitting, Run, RunEnd, SkidDocument } from '../../document/types.ts'
import { add, addScaled, unit, type Vec3 } from '../../geometry/vec3.ts'
import { overruns } from '../../solve/overruns.ts'
import { solveRun } from '../../solve/solveRun.ts'

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
 * A new run between two ports ('' for a free end), with the tube and bender of the last run that fits the
 * ports, else of a bender's tooling that does. It leaves each port along its axis by the simplest of a few ways that has a solution with
 * every straight at least 0; the checks say what else is wanted.
 */
export function addNewRun(
  document: SkidDocument,
  fromPort: string,
  toPort: string,
): { document: SkidDocument; run: Run } {
  const a = document.fittings.find(f => f.id === fromPort) ?? null
  const b = document.fittings.find(f => f.id === toPort) ?? null
  const asked = a?.tubeOd ?? b?.tubeOd ?? null
  const like = document.runs.findLast(r => asked === null || Math.abs(r.tube.od - asked) <= SAME_FIGURE_MM)
  const { tube, clr, bender } = like ?? firstTube(document, asked)
  const out = (f: Fitting) => unit(f.axis) ?? ([1, 0, 0] as Vec3)
  const stub = (f: Fitting) => addScaled(f.position, out(f), f.straightNeeded + 2 * clr)
  const atA: Vec3 = a?.position ?? (b ? addScaled(b.position, out(b), FREE_LENGTH_MM) : [0, 0, 100])
  const atB: Vec3 =
    b?.position ?? (a ? addScaled(a.position, out(a), FREE_LENGTH_MM) : [FREE_LENGTH_MM, 0, 100])
  const end = (f: Fitting | null, at: Vec3): RunEnd =>
    f ? { kind: 'port', fitting: f.id } : { kind: 'free', at }
  const run: Run = {
    id: freshId(
      'run',
      document.runs.map(r => r.id),
    ),
    tag: freshTag(document, document.runs.at(-1)?.tag ?? ''),
    service: '',
    tube,
    clr,
    bender,
    endA: end(a, atA),
    vertices: [],
    endB: end(b, atB),
    trimAllowance: like?.trimAllowance ?? 0,
    insulation: 0,
    quantity: 1,
  }
  const ways = a && b ? waysBetween(stub(a), stub(b), 4 * clr) : [[]]
  const runs = ways.map(way => ({ ...run, vertices: way.map((at, i) => ({ id: `v${i + 1}`, at })) }))
  const made = runs.find(r => canBeBent(document, r)) ?? runs[0]!
  return { document: addRun(document, made), run: made }
}

/** A tube of that OD (null: any) that one of the document's benders can bend, else a stocked one at three times its OD. */
function firstTube(document: SkidDocument, asked: number | null): Pick<Run, 'tube' | 'clr' | 'bender'> {
  const near = (od: number) => asked === null || Math.abs(od - asked) <= SAME_FIGURE_MM
  const bender = document.benders.find(b => b.tooling.some(t => near(t.od)))
  const tooling = bender?.tooling.find(t => near(t.od))
  const wanted = tooling?.od ?? asked ?? 12
  const size = TUBE_SIZES.find(s => Math.abs(s.od - wanted) <= SAME_FIGURE_MM)
  const od = size?.od ?? wanted
  return {
    tube: {
      catalogueId: size?.id ?? null,
      od,
      wall: size?.wall ?? od / 10,
      material: MATERIALS[0]?.id ?? '',
    },
    clr: tooling?.clr ?? 3 * od,
    bender: bender?.id ?? null,
  }
}

/** From the end of one stub to the end of the other: straight on, at once, or round by one of the world's axes. */
function waysBetween(p: Vec3, q: Vec3, aside: number): Vec3[][] {
  const sides: Vec3[] = [
    [0, 0, aside],
    [0, aside, 0],
    [aside, 0, 0],
    [0, -aside, 0],
    [-aside, 0, 0],
  ]
  return [[p, q], [p], [q], [], ...sides.map(side => [p, add(p, side), add(q, side), q])]
}

function canBeBent(document: SkidDocument, run: Run): boolean {
  const solved = solveRun(document, run)
  return (
    solved.route !== null &&
    solved.route.passedThrough.length === 0 &&
    overruns(solved.route).length === 0 &&
    runChecks({ ...document, runs: [run] }, [solved]).findings.every(f => f.rule !== 'portAxis')
  )
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
