import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import { readLaidOut } from '../../src/document/readLaidOut.ts'
import { likelyLayout } from '../../src/document/tableLayout.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writePoints, writeRows } from '../../src/document/writeTable.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { rowsOf, startFrame } from '../../src/solve/rows.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { importRuns, type Target } from '../../src/view/exchange/importRuns.ts'
import { FIRST_PLACE, startOf } from '../../src/view/exchange/placeChoice.ts'

function sample(name: string): SkidDocument {
  const read = readDocument(readFileSync(`sample-routes/${name}.json`, 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  return read.document
}
const runsOf = (text: string) => {
  const read = readLaidOut(text, likelyLayout(text))
  expect(read.errors).toEqual([])
  return read.runs
}
const NEW: Target = { kind: 'newRuns' }
const AS_WRITTEN = { start: { kind: 'asWritten' }, lengths: 'straights' } as const
const taken = (...args: Parameters<typeof importRuns>) => {
  const answer = importRuns(...args)
  if (!answer.ok) throw new Error(answer.reason)
  return answer
}
const farthest = (a: readonly Vec3[], b: readonly Vec3[]) => {
  expect(a.length).toBe(b.length)
  return Math.max(...a.map((p, i) => distance(p, b[i]!)))
}

describe.each(['first-route', 'two-bends', 'algae-manifold', 'inch-skid', 'thirty-runs', 'cannot-be-made'])(
  'every run of %s',
  name => {
    const document = sample(name)
    test('comes back from its own table of points and of bend rows, unmapped, to 1e-9 mm', () => {
      for (const run of document.runs) {
        const { route } = solveRun(document, run)
        if (!route) continue
        const points = taken(document, runsOf(writePoints(route.points)), NEW, run, AS_WRITTEN)
        const again = solveRun(points.document, points.runs[0]!).route
        expect(farthest(again!.points, route.points)).toBeLessThan(1e-9)
        const start = { kind: 'frame', frame: startFrame(route) } as const
        const rows = taken(document, runsOf(writeRows(rowsOf(route))), NEW, run, {
          start,
          lengths: 'straights',
        })
        const bent = solveRun(rows.document, rows.runs[0]!).route
        expect(farthest(bent!.points, route.points)).toBeLessThan(1e-9)
      }
    })
  },
)

describe('new runs', () => {
  const document = sample('first-route')
  const like = document.runs[0]!
  test('have the tube, CLR and bender of the run they are to be like, and tags of their own', () => {
    const text = 'tag,x,y,z\nAE-101,0,0,0\nAE-101,100,0,0\nX-9,0,9,0\nX-9,100,9,0'
    const { runs, says, document: next } = taken(document, runsOf(text), NEW, like, AS_WRITTEN)
    expect(runs.map(r => [r.tag, r.tube, r.clr, r.bender])).toEqual([
      ['AE-102', like.tube, like.clr, like.bender],
      ['X-9', like.tube, like.clr, like.bender],
    ])
    expect(says).toEqual(['AE-101 is in this skid already: the new run becomes AE-102.'])
    expect(next.runs.slice(0, -2)).toEqual(document.runs)
    expect(new Set(next.runs.map(r => r.id)).size).toBe(next.runs.length)
  })

  test('of points move together to a port, which then holds the first end', () => {
    const port = document.fittings[0]!
    const start = startOf(document, { ...FIRST_PLACE, like: like.id, start: port.id }, 'points', 'mm')
    if (!start.ok) throw new Error(start.reason)
    const text = 'tag,x,y,z\nA,5,5,5\nA,105,5,5\nB,5,55,5\nB,105,55,5'
    const { runs } = taken(document, runsOf(text), NEW, like, { ...AS_WRITTEN, start: start.start })
    expect(runs[0]?.endA).toEqual({ kind: 'port', fitting: port.id })
    const [x, y, z] = port.position
    expect(runs[1]?.endA).toEqual({ kind: 'free', at: [x, y + 50, z] })
  })

  test('of rows head out of a port along its axis and turn the way that was chosen', () => {
    const port = { ...document.fittings[0]!, position: [10, 20, 30] as Vec3, axis: [0, 0, 2] as Vec3 }
    const skid = { ...document, fittings: [port] }
    const place = { ...FIRST_PLACE, like: like.id, start: port.id, towards: '−Y' as const }
    const start = startOf(skid, place, 'rows', 'mm')
    if (!start.ok) throw new Error(start.reason)
    const rows = runsOf('straight,rotation,angle\n100,,90\n50,,\n')
    const { runs } = taken(skid, rows, NEW, like, { ...AS_WRITTEN, start: start.start })
    const vertex = runs[0]!.vertices[0]!.at
    expect(distance(vertex, [10, 20, 130 + like.clr])).toBeLessThan(1e-9)
    const end = runs[0]!.endB
    expect(end.kind === 'free' && distance(end.at, [10, 20 - like.clr - 50, 130 + like.clr])).toBeLessThan(
      1e-9,
    )
  })

  test('cannot turn the way they head, begin where no length is typed, or have one point', () => {
    const rows = runsOf('straight,rotation,angle\n100,,90\n50,,\n')
    const along = startOf(
      document,
      { ...FIRST_PLACE, like: like.id, start: 'point', towards: '−X' },
      'rows',
      'mm',
    )
    expect(
      along.ok && importRuns(document, rows, NEW, like, { ...AS_WRITTEN, start: along.start }),
    ).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/cannot turn/),
    })
    expect(
      startOf(
        document,
        { ...FIRST_PLACE, like: like.id, start: 'point', at: ['0', '1,5', '0'] },
        'rows',
        'mm',
      ),
    ).toMatchObject({ ok: false, reason: expect.stringMatching(/^Start at Y: "1,5" is ambiguous/) })
    expect(importRuns(document, runsOf('x,y,z\n1,2,3'), NEW, like, AS_WRITTEN)).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/one point/),
    })
  })

  test('in a new skid leave the open one as it is', () => {
    const text = 'x,y,z\n0,0,0\n100,0,0'
    const { document: next } = taken(document, runsOf(text), { kind: 'newSkid', name: 'N' }, like, AS_WRITTEN)
    expect([next.name, next.runs.length, next.fittings, next.benders]).toEqual(['N', 1, [], document.benders])
  })
})

describe('other points for a run', () => {
  const document = sample('first-route')
  const run = document.runs[0]!
  const target: Target = { kind: 'replace', run: run.id }
  const route = solveRun(document, run).route!

  test('keep its vertices’ ids, tube and place in the list, and say what moves and what leaves its port', () => {
    const moved = route.points.map((p, i) => (i < 2 ? p : ([p[0] + 30, p[1], p[2]] as Vec3)))
    const { document: next, says } = taken(document, runsOf(writePoints(moved)), target, run, AS_WRITTEN)
    expect(next.runs[0]!.vertices.map(v => v.id)).toEqual(run.vertices.map(v => v.id))
    expect(next.runs[0]!.endA).toEqual(run.endA)
    expect(next.runs[0]!.endB.kind).toBe('free')
    expect(says).toEqual([
      '4 of 6 points move, by 30 mm at most.',
      'End B leaves port Manifold inlet: it is free, 30 mm away.',
      'Its tube, CLR 36 mm and bender stay.',
    ])
  })

  test('that are its own change nothing', () => {
    const { document: next, says } = taken(
      document,
      runsOf(writePoints(route.points)),
      target,
      run,
      AS_WRITTEN,
    )
    expect(next).toEqual(document)
    expect(says[0]).toBe('No point moves.')
  })

  test('of its own bend rows stand where the run stands, both ends in their ports', () => {
    const start = startOf(document, { ...FIRST_PLACE, target: 'replace', like: run.id }, 'rows', 'mm')
    if (!start.ok) throw new Error(start.reason)
    const { document: next } = taken(document, runsOf(writeRows(rowsOf(route))), target, run, {
      ...AS_WRITTEN,
      start: start.start,
    })
    expect([next.runs[0]!.endA, next.runs[0]!.endB]).toEqual([run.endA, run.endB])
    expect(farthest(solveRun(next, next.runs[0]!).route!.points, route.points)).toBeLessThan(1e-9)
  })

  test('are of one run only', () => {
    const two = runsOf('tag,x,y,z\nA,0,0,0\nA,1,0,0\nB,0,0,0\nB,1,0,0')
    expect(importRuns(document, two, target, run, AS_WRITTEN)).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/2 runs/),
    })
  })
})
