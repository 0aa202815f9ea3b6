import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import * as edits from '../../src/document/edits.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
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
  switch (random.whole(0, 10)) {
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
      const end = writeDocument(store().settled)
      let back = 0
      while (store().past.length > 0) {
        store().undo()
        back++
      }
      expect(writeDocument(store().settled)).toBe(writeDocument(start))
      for (let k = 0; k < back; k++) store().redo()
      expect(writeDocument(store().settled)).toBe(end)
    }
  })
})
