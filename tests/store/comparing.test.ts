import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { compareVersions } from '../../src/checks/compareVersions.ts'
import { createVersionJob } from '../../src/checks/versionFindings.ts'
import { removeRun } from '../../src/document/edits.ts'
import { addModel } from '../../src/document/modelEdits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { modelHash } from '../../src/skid/models/modelHash.ts'
import { createModelJob } from '../../src/skid/models/modelJob.ts'
import { compareStore } from '../../src/store/compareStore.ts'
import { checkEarlier, compareWith, showVersion, stopComparing } from '../../src/store/comparing.ts'
import { documentStore } from '../../src/store/documentStore.ts'
import { keepModelFile } from '../../src/store/modelFiles.ts'
import { modelStore } from '../../src/store/modelStore.ts'
import { startModels } from '../../src/store/models.ts'
import { sessionStore } from '../../src/store/sessionStore.ts'
import { giveModelFile } from '../../src/store/takeModelFile.ts'
import { workersHere } from '../workerHere.ts'

let reads = 0
const jobOf = (file: string) => {
  if (file === 'compareWorker.ts') return createVersionJob()
  reads++
  return createModelJob({ stepKernel: () => Promise.reject(new Error('no STEP here')) })
}

/** A plate square to x whose near face stands at x. */
const plate = (x: number) =>
  `o plate\nv ${x} -50 0\nv ${x} 50 0\nv ${x} 50 100\nv ${x} -50 100\nf 1 2 3\nf 1 3 4\n`
const near = plate(110)
const far = plate(160)

const run = (y: number, id = 'r1'): Run => ({
  id,
  tag: `AE-${id}`,
  service: 'air',
  tube: { catalogueId: null, od: 10, wall: 1, material: '316' },
  clr: 30,
  bender: null,
  endA: { kind: 'free', at: [0, y, 50] },
  vertices: [],
  endB: { kind: 'free', at: [100, y, 50] },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
})
/** A tube that ends 10 mm short of the near plate, where 25 mm are required; of the far one it is clear. */
async function skid(obj: string, name = 'plate.obj'): Promise<SkidDocument> {
  const bytes = new TextEncoder().encode(obj)
  const empty = emptyDocument('Skid')
  return addModel(
    { ...empty, runs: [run(0)], clearances: { ...empty.clearances, equipment: 25 } },
    {
      name: 'Plates',
      fileName: name,
      hash: await modelHash(bytes),
      bytes: bytes.length,
      format: 'obj',
      unitMm: 1,
      up: 'z',
      kind: 'equipment',
    },
  ).document
}
const keep = async (obj: string) => {
  await keepModelFile(await modelHash(new TextEncoder().encode(obj)), 'plate.obj', new Blob([obj]))
}
const open = (document: SkidDocument) => documentStore.getState().open(document)
const checked = async () => {
  await expect.poll(() => compareStore.getState().checked.state).toBe('done')
  const { checked } = compareStore.getState()
  if (checked.state !== 'done') throw new Error(checked.state)
  return checked.findings
}
const gapsOf = (findings: Awaited<ReturnType<typeof checked>>) =>
  findings.filter(f => f.rule === 'tooClose').map(f => [f.id, f.measured])

let stops: (() => void)[] = []
beforeAll(() => {
  stops = [workersHere(jobOf), startModels()]
})
afterEach(() => stopComparing())
afterAll(() => {
  for (const stop of stops) stop()
})

test('the same file as the open document’s is measured in the earlier version as it was read, not read again', async () => {
  await keep(near)
  const now = await skid(near)
  open(now)
  await expect.poll(() => [...modelStore.getState().states.values()].map(s => s.kind)).toEqual(['ready'])
  const before = reads
  const longer: Run = { ...run(0), endB: { kind: 'free', at: [104, 0, 50] } }
  compareWith('was.json', structuredClone({ ...now, runs: [longer] }))
  const findings = await checked()
  expect(gapsOf(findings)).toEqual([[expect.stringMatching(/^clearance:r1:/), expect.closeTo(6, 6)]])
  expect(findings.some(f => f.rule === 'clearanceNotChecked')).toBe(false)
  expect(reads).toBe(before)
})

test('a file that the open document is still to read is waited for, not read twice', async () => {
  await keep(near)
  open(emptyDocument('Empty'))
  await expect.poll(() => modelStore.getState().states.size).toBe(0)
  const now = await skid(near)
  const before = reads
  open(now)
  compareWith('was.json', structuredClone(now))
  expect(gapsOf(await checked())).toHaveLength(1)
  expect(reads).toBe(before + 1)
})

test('a file that only the earlier version names is read from what this browser keeps; both versions’ gaps are told apart', async () => {
  await keep(near)
  await keep(far)
  open(await skid(far))
  await expect.poll(() => [...modelStore.getState().states.values()].map(s => s.kind)).toEqual(['ready'])
  const was = await skid(near)
  const ids = documentStore.getState().settled.models.map(m => m.id)
  compareWith('was.json', { ...was, models: was.models.map((m, i) => ({ ...m, id: ids[i]! })) })
  const before = await checked()
  const found = compareVersions(was, documentStore.getState().settled, { before, after: [] }).findings!
  expect(found.gone.map(f => [f.rule, f.measured])).toEqual([['tooClose', expect.closeTo(10, 6)]])
})

test('without the file: not checked, by its name; no finding of the model went away or is new; given, all is checked', async () => {
  const gone = plate(108)
  const was = await skid(gone, 'lost.obj')
  open(emptyDocument('Empty'))
  compareWith('was.json', was)
  const findings = await checked()
  expect(gapsOf(findings)).toEqual([])
  expect(findings.filter(f => f.rule === 'clearanceNotChecked').map(f => f.message)).toEqual([
    expect.stringContaining('lost.obj is missing'),
  ])
  const [model] = was.models
  await keep(near)
  const kept = await skid(near)
  const later = { ...kept, models: kept.models.map(m => ({ ...m, id: model!.id })) }
  compareWith('later.json', later)
  const after = await checked()
  expect(gapsOf(after)).toHaveLength(1)
  compareWith('was.json', was)
  const found = compareVersions(was, later, { before: await checked(), after }).findings!
  expect([found.appeared, found.notKnownBefore.length, found.notChecked.before.length]).toEqual([[], 1, 1])
  const back = compareVersions(later, was, { before: after, after: await checked() }).findings!
  expect([back.gone, back.notKnownNow.length, back.notChecked.now.length]).toEqual([[], 1, 1])

  expect((await giveModelFile(model!, new File([gone], 'renamed.obj'))).kind).toBe('taken')
  checkEarlier()
  expect(gapsOf(await checked())).toEqual([[expect.any(String), expect.closeTo(8, 6)]])
})

test('edits, undo to the very first state and redo keep the comparison', () => {
  const document = { ...emptyDocument('Skid'), runs: [run(0), run(90, 'r2')] }
  open(document)
  compareWith('was.json', structuredClone(document))
  const { apply, undo, redo } = documentStore.getState()
  apply('Delete', d => removeRun(d, 'r2'))
  undo()
  expect(documentStore.getState().past).toEqual([])
  redo()
  expect(compareStore.getState().earlier?.name).toBe('was.json')
})

test('another skid ends the comparison, shows what was hidden for it, and says so behind what is said of the opening', async () => {
  const document = { ...emptyDocument('Skid'), runs: [run(0), run(90, 'r2')] }
  open(document)
  compareWith('was.json', structuredClone(document))
  showVersion('earlier', ['r1'])
  expect([...sessionStore.getState().hiddenRuns]).toEqual(['r1'])
  open({ ...emptyDocument('Other skid'), runs: [{ ...run(0), tag: 'WS-1' }] })
  sessionStore.getState().say('Opened “other.json”.')
  expect(compareStore.getState()).toMatchObject({
    earlier: null,
    ended: expect.stringContaining('Other skid'),
  })
  expect(sessionStore.getState().hiddenRuns.size).toBe(0)
  await expect
    .poll(() => sessionStore.getState().said)
    .toBe('Opened “other.json”. The comparison with was.json ended: this is another skid.')
  compareWith('was.json', document)
  expect(compareStore.getState().ended).toBe('')
})

test('a later save of the same skid is compared with the same earlier version, and that is said', async () => {
  const document = { ...emptyDocument('Skid'), runs: [run(0), run(90, 'r2')] }
  open(document)
  compareWith('was.json', structuredClone(document))
  open({ ...structuredClone(document), name: 'Skid, issue C', runs: [run(5), run(90, 'r2')] })
  sessionStore.getState().say('Opened “c.json”.')
  expect(compareStore.getState().earlier?.name).toBe('was.json')
  await expect
    .poll(() => sessionStore.getState().said)
    .toBe('Opened “c.json”. It is compared with was.json as before.')
})
