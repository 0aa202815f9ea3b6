import type { Bender, Run, SkidDocument, Tooling } from '../../document/types.ts'
import type { Edit, Refusal } from '../fields/applyEdit.ts'

/** An edit of one bender. @throws RangeError when the document has no such bender. */
export const editBender =
  (id: string, edit: (bender: Bender) => Bender | Refusal): Edit =>
  document => {
    const bender = document.benders.find(b => b.id === id)
    if (!bender) throw new RangeError(`editBender: the document has no bender "${id}"`)
    const next = edit(bender)
    return 'refused' in next ? next : withBender(document, bender, next)
  }

const withBender = (document: SkidDocument, was: Bender, next: Bender): SkidDocument => ({
  ...document,
  benders: document.benders.map(b => (b === was ? next : b)),
})

type Lists = 'tooling' | 'springback' | 'housing' | 'arm'

/** An edit of one row of a bender's list. */
export const editRow = <L extends Lists>(
  id: string,
  list: L,
  at: number,
  edit: (row: Bender[L][number]) => Bender[L][number] | Refusal,
): Edit =>
  editBender(id, bender => {
    const row = bender[list][at]
    if (row === undefined) return { refused: `this bender has no row ${at + 1} in ${list}` }
    const next = edit(row)
    if ('refused' in next) return next
    return { ...bender, [list]: bender[list].map((r, i) => (i === at ? next : r)) }
  })

/** Refuses a figure that is not at least (or not above) `least`. */
export const wanted = (ok: boolean, what: string, want: string): Refusal | null =>
  ok ? null : { refused: `${what}: wanted ${want}` }

/**
 * A tooling for the run's tube of which nothing else is known: OD and CLR are read off the die, every other figure is
 * to be measured. What stands for those holds the place only.
 */
export const freshTooling = (run: Run, id: string): Tooling => ({
  id,
  od: run.tube.od,
  clr: run.clr,
  clrMeasured: 'die',
  clampGrip: 0,
  followerLength: 0,
  referenceOffset: 0,
  maxAngle: 180,
  notMeasured: ['clampGrip', 'followerLength', 'referenceOffset', 'maxAngle'],
})
