import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { changeRuns, removeRuns } from '../../src/document/bulkEdits.ts'
import * as edits from '../../src/document/edits.ts'
import * as models from '../../src/document/modelEdits.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import * as supports from '../../src/document/supportEdits.ts'
import type { ModelKind, Run, SkidDocument } from '../../src/document/types.ts'
import * as viewpoints from '../../src/document/viewpointEdits.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { editRow } from '../../src/solve/editRows.ts'
import { documentStore } from '../../src/store/documentStore.ts'
import { type Random, seeded } from '../random.ts'

const SEED = 31
const SEQUENCES = 1000
const ACTIONS = 300

function sample(): SkidDocument {
  const read = readDocument(readFileSync('sample-routes/algae-manifold.json', 'utf8'))
  if (!read.ok) throw new Error(read.errors.map(e => e.message).join())
  return read.document
}

const pick = <T>(random: Random, from: readonly T[]): T | undefined => from[random.whole(0, from.length - 1)]
const place = (random: Random): Vec3 => [
  random.between(-500, 500),
  random.between(-500, 500),
  random.between(0, 900),
]

const file = (random: Random): models.ModelFile => ({
  fileName: `file${random.whole(0, 99)}.step`,
  hash: random.whole(0, 0xffff).toString(16).padStart(64, '0'),
  bytes: random.whole(1, 1_000_000),
  format: pick(random, ['step', 'gltf', 'stl', 'obj'] as const)!,
  unitMm: pick(random, [1, 10, 25.4, 1000])!,
  up: random.next() < 0.5 ? 'y' : 'z',
})
const modelKind = (random: Random): ModelKind =>
  pick(random, ['equipment', 'structure', 'fitting', 'floor', 'keepOut', 'leftOut'] as const)!

function modelEdited(random: Random, d: SkidDocument): SkidDocument {
  const model = pick(random, d.models)
  if (!model || random.next() < 0.2)
    return models.addModel(d, { name: 'M', kind: modelKind(random), ...file(random) }).document
  switch (random.whole(0, 3)) {
    case 0:
      return models.editModel(d, model.id, m => ({ ...m, at: place(random), kind: modelKind(random) }))
    case 1:
      return models.replaceModelFile(d, model.id, file(random))
    case 2:
      return models.editModelParts(
        d,
        model.id,
        Array.from({ length: random.whole(1, 3) }, () => `top/part${random.whole(0, 4)}`),
        { kind: modelKind(random), fitting: pick(random, d.fittings)?.id ?? null },
      )
    default:
      return models.removeModel(d, model.id)
  }
}

function supportEdited(random: Random, d: SkidDocument, run: Run): SkidDocument {
  const support = pick(random, d.supports)
  if (!support || random.next() < 0.4) return supports.addSupport(d, run.id, place(random)).document
  return random.next() < 0.6
    ? supports.editSupport(d, support.id, {
        run: run.id,
        at: place(random),
        type: `t${random.whole(0, 4)}`,
      })
    : supports.removeSupport(d, support.id)
}

function viewpointEdited(random: Random, d: SkidDocument): SkidDocument {
  const view = pick(random, d.viewpoints)
  if (!view || random.next() < 0.3)
    return viewpoints.addViewpoint(d, {
      name: viewpoints.freshViewName(d),
      note: '',
      by: 'fuzz',
      on: '2026-01-01',
      target: place(random),
      yaw: random.between(-180, 180),
      pitch: random.between(-90, 90),
      span: random.between(10, 5000),
      projection: random.next() < 0.5 ? 'perspective' : 'orthographic',
      section: random.next() < 0.5 ? { at: place(random), normal: random.direction() } : null,
      hidden: d.runs.slice(0, random.whole(0, 2)).map(r => r.id),
    }).document
  switch (random.whole(0, 2)) {
    case 0:
      return viewpoints.changeViewpoint(d, view.id, { note: `n${random.whole(0, 9)}`, target: place(random) })
    case 1:
      return viewpoints.moveViewpoint(d, view.id, random.whole(-2, 2))
    default:
      return viewpoints.removeViewpoint(d, view.id)
  }
}

function manyEdited(random: Random, d: SkidDocument): SkidDocument {
  const ids = new Set(d.runs.filter(() => random.next() < 0.5).map(r => r.id))
  if (random.next() < 0.05) return removeRuns(d, ids)
  const changed = changeRuns(d, ids, {
    clr: random.between(-5, 60),
    quantity: random.whole(0, 5),
    bender: random.next() < 0.5 ? null : (pick(random, d.benders)?.id ?? null),
    ...(random.next() < 0.5 ? { size: { catalogueId: null, od: random.between(6, 20), wall: 1 } } : {}),
  })
  return 'refused' in changed ? d : changed
}

/** One random edit; it may give the same document back, as an edit in vain does. */
function edited(random: Random, d: SkidDocument): SkidDocument {
  const run = pick(random, d.runs)
  if (!run || random.next() < 0.04) {
    const id = edits.freshId('run', [...d.runs.map(r => r.id), 'run1'])
    const fresh: Run = {
      ...(run ?? sample().runs[0]!),
      id,
      tag: `T-${id}`,
      endA: { kind: 'free', at: place(random) },
      endB: { kind: 'free', at: place(random) },
    }
    return edits.addRun(d, fresh)
  }
  const vertex = pick(random, run.vertices)
  const fitting = pick(random, d.fittings)
  const solid = pick(random, d.solids)
  switch (random.whole(0, 14)) {
    case 0:
    case 1:
      return vertex ? edits.movePoint(d, run.id, vertex.id, place(random)) : d
    case 2:
      return edits.insertVertex(d, run.id, random.whole(0, run.vertices.length), place(random)).document
    case 3:
      return vertex ? edits.deleteVertex(d, run.id, vertex.id) : d
    case 4:
      return random.next() < 0.2 ? edits.removeRun(d, run.id) : d
    case 5:
      return fitting ? edits.editFitting(d, fitting.id, { position: place(random) }) : d
    case 6:
      return fitting && random.next() < 0.1 ? edits.removeFitting(d, fitting.id) : d
    case 7:
      return solid ? edits.removeSolid(d, solid.id) : d
    case 8:
      return edits.setEnd(d, run.id, random.next() < 0.5 ? 'A' : 'B', { kind: 'free', at: place(random) })
    case 9: {
      const result = editRow(
        d,
        run.id,
        { kind: 'straight', index: random.whole(0, run.vertices.length), to: random.between(-20, 400) },
        random.next() < 0.5 ? 'A' : 'B',
      )
      return result.ok ? result.document : d
    }
    case 10:
      return modelEdited(random, d)
    case 11:
      return supportEdited(random, d, run)
    case 12:
      return viewpointEdited(random, d)
    case 13:
      return manyEdited(random, d)
    default:
      return edits.editRun(d, run.id, r => ({
        ...r,
        clr: random.between(20, 60),
        service: `s${random.whole(0, 9)}`,
      }))
  }
}

describe(`undo and redo of anything, seed ${SEED}`, () => {
  test(`${SEQUENCES} sequences of ${ACTIONS} actions come back byte for byte, both ways`, () => {
    const random = seeded(SEED)
    const start = sample()
    const store = documentStore.getState
    /** In how many sequences there was a model, a support, a saved view in the end. */
    const held = [0, 0, 0]
    for (let s = 0; s < SEQUENCES; s++) {
      store().open(start)
      for (let i = 0; i < ACTIONS; i++) {
        const dice = random.next()
        if (dice < 0.12) store().undo()
        else if (dice < 0.2) store().redo()
        else if (dice < 0.35) {
          // A gesture: many previews, then kept or dropped.
          const before = store().settled
          for (let k = 0; k < 3; k++) store().preview(d => edited(random, d))
          if (random.next() < 0.5) store().settle('drag')
          else {
            store().cancel()
            expect(store().settled).toBe(before)
            expect(store().document).toBe(before)
          }
        } else store().apply('edit', d => edited(random, d))
      }
      const d = store().settled
      const end = writeDocument(d)
      let back = 0
      while (store().past.length > 0) {
        store().undo()
        back++
      }
      expect(writeDocument(store().settled)).toBe(writeDocument(start))
      for (let k = 0; k < back; k++) store().redo()
      expect(writeDocument(store().settled)).toBe(end)
      for (const [i, list] of [d.models, d.supports, d.viewpoints].entries()) if (list.length > 0) held[i]!++
    }
    // Else the edits of these lists were all in vain and nothing was tried.
    expect(Math.min(...held)).toBeGreaterThan(SEQUENCES / 4)
  })
})
