import { editRun, freshId } from '../../document/edits.ts'
import { KNOWN_BENDERS } from '../../document/knownBenders.ts'
import type { Bender, Run, SkidDocument } from '../../document/types.ts'
import { documentStore } from '../../store/documentStore.ts'
import { freshTooling } from './benderEdits.ts'

/** Which bender makes the run: one of the document, or one put into it from the table or as an own machine. */
export function BenderChoice({ document, run }: { document: SkidDocument; run: Run }) {
  const have = new Set(document.benders.map(b => b.catalogueId))
  const known = KNOWN_BENDERS.filter(k => !have.has(k.bender.catalogueId))
  const choose = (value: string) => {
    const { apply } = documentStore.getState()
    if (value.startsWith('add:')) {
      const bender = KNOWN_BENDERS.find(k => k.bender.id === value.slice(4))?.bender
      if (!bender) return
      const id = document.benders.some(b => b.id === bender.id)
        ? freshId(
            'bender',
            document.benders.map(b => b.id),
          )
        : bender.id
      apply(`Add ${bender.name}`, d => withBender(d, run.id, { ...bender, id }))
    } else if (value === 'own') {
      const own = ownBender(document, run)
      apply('Add a custom bender', d => withBender(d, run.id, own))
    } else
      apply('Choose a bender', d => editRun(d, run.id, r => ({ ...r, bender: value === '' ? null : value })))
  }
  return (
    <label>
      bender
      <select value={run.bender ?? ''} onChange={event => choose(event.currentTarget.value)}>
        <option value="">none chosen</option>
        {document.benders.map(b => (
          <option key={b.id} value={b.id}>
            {b.name}
          </option>
        ))}
        <optgroup label="Put into this skid">
          {known.map(k => (
            <option key={k.bender.id} value={`add:${k.bender.id}`}>
              {k.bender.name} ({k.source})
            </option>
          ))}
          <option value="own">Custom bender…</option>
        </optgroup>
      </select>
    </label>
  )
}

const withBender = (document: SkidDocument, runId: string, bender: Bender): SkidDocument =>
  editRun({ ...document, benders: [...document.benders, bender] }, runId, r => ({ ...r, bender: bender.id }))

/** A machine with one tooling for the run's tube and no solids yet; every figure is to be measured. */
function ownBender(document: SkidDocument, run: Run): Bender {
  return {
    id: freshId(
      'bender',
      document.benders.map(b => b.id),
    ),
    name: 'Custom bender',
    catalogueId: null,
    note: '',
    hand: 'left',
    kind: 'rotaryDraw',
    tooling: [freshTooling(run, 'first')],
    springback: [],
    housing: [],
    arm: [],
    benchTop: null,
    benchEdge: null,
  }
}
