import { readdirSync, readFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { describe, expect, it } from 'vitest'
import { allFindings } from '../../src/checks/allFindings.ts'
import { decide, isOpen } from '../../src/checks/decisions.ts'
import { mendGap } from '../../src/checks/mend/mendGap.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { modelBodies } from '../../src/skid/models/modelBodies.ts'
import { modelFindings } from '../../src/skid/models/modelFindings.ts'
import { modelHash } from '../../src/skid/models/modelHash.ts'
import { modelTrees } from '../../src/skid/models/modelTrees.ts'
import { treesKey } from '../../src/skid/models/modelTypes.ts'
import { readModel } from '../../src/skid/models/readModel.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import { SAMPLES } from '../../src/store/samples.ts'
import { MADE, MADE_MODELS, sampleFile, sampleModelFile } from './make.ts'

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

  it('have beside them just the model files that they speak of, byte for byte what their maker makes', async () => {
    const files = readdirSync(dirname(sampleFile('x'))).filter(name => !name.endsWith('.json'))
    expect(files.sort()).toEqual(Object.keys(MADE_MODELS).sort())
    for (const [name, make] of Object.entries(MADE_MODELS)) {
      const bytes = readFileSync(sampleModelFile(name))
      expect(bytes.equals(await make()), name).toBe(true)
      expect(bytes.length, name).toBeLessThan(300_000)
    }
    const spokenOf = SAMPLES.flatMap(({ key }) => sample(key).models)
    expect([...new Set(spokenOf.map(m => m.fileName))].sort()).toEqual(files)
    for (const { fileName, bytes, hash } of spokenOf) {
      const found = new Uint8Array(readFileSync(sampleModelFile(fileName)))
      expect([found.length, await modelHash(found)], fileName).toEqual([bytes, hash])
    }
  })

  it.each(SAMPLES.map(s => s.key))('%s is byte for byte what its maker makes, and reads back', async key => {
    const text = readFileSync(sampleFile(key), 'utf8')
    expect(text).toBe(writeDocument(await MADE[key]!()))
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

  describe('on the feed-pump skid, with its model', async () => {
    const document = sample('dense-skid')
    const trees = new Map()
    for (const model of document.models) {
      const bytes = new Uint8Array(readFileSync(sampleModelFile(model.fileName)))
      const read = await readModel(bytes, model.fileName, () => {}, { stepKernel: () => Promise.reject() })
      trees.set(treesKey(model), modelTrees(read, model.unitMm, model.up))
    }
    const { bodies } = modelBodies(document, trees)
    const findings = allFindings(document, solveDocument(document), { trees })
    const { decided, stale } = decide(findings, document.acceptances)

    it('find clashes and small gaps with runs, solids, the floor and parts of the model, and nothing else', () => {
      const open = decided.filter(isOpen).map(d => `${d.finding.rule} ${d.finding.id}`)
      const part = (key: string) => `pump-skid/Feed-pump skid/${key}`
      expect(open).toEqual([
        'clash clearance:ae-404:ae-405',
        `clash clearance:dr-423:${part('Pump set/Coupling guard')}`,
        'clash clearance:sw-427:ws-402',
        'tooClose clearance:dr-424:floor',
        'tooClose clearance:ws-403:junction',
        `tooClose clearance:cd-428:${part('Mixing tank/Shell')}`,
        'tooClose clearance:af-405:af-406',
        `tooClose clearance:dr-423:${part('Pump set/Pump')}`,
        'tooClose clearance:ws-402:junction',
      ])
      expect(findings.filter(f => f.severity === 'notChecked')).toEqual([])
    })

    it('find what was accepted at the figure that was accepted', () => {
      const [rung] = decided.filter(d => d.state === 'accepted')
      expect(stale).toEqual([])
      // Tap at z 711, tube 10, rung's top at 415 + 280 in single precision of metres.
      expect(rung?.finding.measured).toBeCloseTo(711 - 5 - 695, 4)
      expect(rung?.finding.measured).toBe(rung?.acceptance?.measured)
      expect(rung?.finding.limit).toBe(rung?.acceptance?.limit)
    })

    it.each(['clearance:dr-424:floor', 'clearance:cd-428:pump-skid/Feed-pump skid/Mixing tank/Shell'])(
      'have a way to mend %s',
      id => {
        const finding = findings.find(f => f.id === id)!
        const search = mendGap(document, finding, bodies, 'mm')
        let step = search.next()
        while (!step.done) step = search.next()
        const [way] = step.value.ways
        expect(way?.clearance).toBeGreaterThanOrEqual(finding.limit! - 1e-6)
        const runs = document.runs.map(run => (run.id === way?.runId ? way.run : run))
        const mended = { ...document, runs }
        const gaps = clearanceFindings(mended, solveDocument(mended), bodies).map(f => f.id)
        expect(gaps).not.toContain(id)
      },
    )

    it('say that the model is not checked when its file is not at hand', () => {
      const without = modelFindings(modelBodies(document, new Map()))
      expect(without.map(f => [f.severity, f.id])).toEqual([['notChecked', 'clearance:notChecked:pump-skid']])
    })
  })
})
