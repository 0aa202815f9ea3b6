import { readdirSync, readFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { describe, expect, it } from 'vitest'
import { allFindings } from '../../src/checks/allFindings.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import { SAMPLES } from '../../src/store/samples.ts'
import { MADE, sampleFile } from './make.ts'

function sample(key: string): SkidDocument {
  const read = readDocument(readFileSync(sampleFile(key), 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join('\n'))
  return read.document
}
const solved = (key: string) => sample(key).runs.map(run => solveRun(sample(key), run))

describe('the samples', () => {
  it('are the files that the picker offers, and no others', () => {
    const files = readdirSync(dirname(sampleFile('x'))).filter(name => name.endsWith('.json'))
    expect(files.sort()).toEqual(SAMPLES.map(s => `${s.key}.json`).sort())
    expect(Object.keys(MADE)).toEqual(SAMPLES.map(s => s.key))
  })

  it.each(SAMPLES.map(s => s.key))('%s is byte for byte what its maker makes, and reads back', key => {
    const text = readFileSync(sampleFile(key), 'utf8')
    expect(text).toBe(writeDocument(MADE[key]!()))
    expect(writeDocument(sample(key))).toBe(text)
  })

  it.each(SAMPLES.map(s => s.key))('%s says that it is invented', key => {
    expect(sample(key).invented).toBe(true)
    expect(sample(key).note).toMatch(/[Ii]nvented/)
  })

  it('open with one run of four bends between two ports', () => {
    const [run] = solved('first-route')
    expect(solved('first-route')).toHaveLength(1)
    expect(run?.route?.bends).toHaveLength(4)
    expect(sample('first-route').runs[0]?.endA.kind).toBe('port')
    expect(sample('first-route').runs[0]?.endB.kind).toBe('port')
  })

  it('show on the first one a last straight shorter than its port needs, and no other shortage', () => {
    const { fittings } = sample('first-route')
    const straights = solved('first-route')[0]?.route?.straights ?? []
    const needed = fittings.find(f => f.id === 'manifold-in')?.straightNeeded ?? 0
    // Leg 30, bend of 45° with CLR 36: 30 − 36·tan 22.5° = 15.088 < 24.
    expect(straights.at(-1)).toBeCloseTo(30 - 36 * Math.tan(Math.PI / 8), 9)
    expect(straights.at(-1)).toBeLessThan(needed)
    expect(Math.min(...straights.slice(0, -1))).toBeGreaterThan(100)
  })

  it('have thirty runs on the panel, all of which solve with no leg overrun', () => {
    const runs = solved('thirty-runs')
    expect(runs).toHaveLength(30)
    for (const run of runs) expect(Math.min(...(run.route?.straights ?? [-1])), run.tag).toBeGreaterThan(0)
  })

  it('keep the inch skid on whole inches', () => {
    for (const run of sample('inch-skid').runs)
      for (const v of run.vertices)
        for (const c of v.at) expect(Math.round(c / 25.4) * 25.4, run.tag).toBeCloseTo(c, 9)
  })

  it('name the fault of each run that cannot be made', () => {
    const [overrun, grip, back, radius, axis] = solved('cannot-be-made')
    expect(overrun?.route?.straights[1]).toBeCloseTo(-10, 9)
    expect(grip?.route?.straights[1]).toBeCloseTo(15, 9)
    expect(back?.problem?.code).toBe('reversal')
    expect(radius?.route?.bends[0]?.clr).toBe(25)
    expect(axis?.route?.pieces[0]?.direction[1]).not.toBe(0)
  })

  /** Which rules which runs of a sample break, each once. */
  const open = (key: string) => {
    const document = sample(key)
    const tag = new Map(document.runs.map(run => [run.id, run.tag]))
    const broken = allFindings(document, solveDocument(document))
      .filter(f => f.severity === 'error' || f.severity === 'warning')
      .map(f => `${f.rule} ${tag.get(f.where.run ?? '')}`)
    return [...new Set(broken)].sort()
  }

  it.each(['two-bends', 'inch-skid', 'algae-manifold'])('find nothing wrong with %s', key => {
    expect(open(key)).toEqual([])
  })

  it('find just the short straight on the first one', () => {
    expect(open('first-route')).toEqual(['fittingStraight AE-101'])
  })

  it('find on the panel just the handful that was put there', () => {
    expect(open('thirty-runs')).toEqual([
      'clash AF-207',
      'clrNotInTooling AF-203',
      'housingClash AE-210',
      'portAxis WS-201',
      'straightClamp AE-210',
      'tooClose WS-205',
    ])
  })

  it('find on every run that cannot be made why not', () => {
    expect(open('cannot-be-made')).toEqual([
      'clrNotInTooling CB-304',
      'housingClash CB-302',
      'legOverrun CB-301',
      'portAxis CB-305',
      'reversal CB-303',
      'straightClamp CB-301',
      'straightClamp CB-302',
    ])
  })
})
