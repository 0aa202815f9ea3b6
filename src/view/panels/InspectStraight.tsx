import type { Run, SkidDocument } from '../../document/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import { AddSupport } from './AddSupport.tsx'
import { SHOWN_MM } from './BendTable.tsx'
import { InspectHead } from './InspectHead.tsx'
import { KeepEnd } from './KeepEnd.tsx'
import { neededStraights } from './neededStraight.ts'
import { rowEdit } from './rowEdits.ts'

/** A straight: its length, and what needs how much of it. */
export function InspectStraight({
  document,
  run,
  straight,
}: {
  document: SkidDocument
  run: Run
  straight: number
}) {
  const unit = useSession(state => state.unit)
  const solved = solvedRunOf(document, run.id)
  const route = solved?.route
  const length = route?.straights[straight]
  const show = (mm: number) => `${lengthKind(unit).show(mm)} ${lengthUnitWord(unit)}`
  const need = route && neededStraights(document, run, solved)[straight]
  const piece = route?.pieces.find(p => p.kind === 'line' && p.straight === straight)
  const from = straight === 0 ? 'end A' : `bend ${straight}`
  const to = route && straight === route.bends.length ? 'end B' : `bend ${straight + 1}`
  return (
    <>
      <InspectHead title={`Straight ${straight + 1}`} kind={`of ${run.tag}`}>
        <button
          type="button"
          className="small"
          onClick={() => sessionStore.getState().select({ kind: 'run', run: run.id })}
        >
          Whole run
        </button>
      </InspectHead>
      <div className="inspect-body">
        {length === undefined ? (
          <p className="quiet">The route cannot be solved, so this straight has no length.</p>
        ) : (
          <>
            <p>
              From {from} to {to}.
            </p>
            <LengthField
              name="Length"
              value={length}
              label={`Change straight ${straight + 1}`}
              edit={rowEdit(run.id, 'straight', straight)}
            />
            <KeepEnd />
            {need && (
              <p>
                {need.length === null
                  ? `Its minimum is not known: ${need.why}.`
                  : need.length === 0
                    ? 'No minimum.'
                    : `Needs ${show(need.length)}: ${need.why}.`}
              </p>
            )}
            {need && need.length !== null && need.length - length > SHOWN_MM && (
              <p className="field-reason">
                {lengthKind(unit).lack(need.length - length)} {lengthUnitWord(unit)} short.
              </p>
            )}
            {piece?.kind === 'line' && <AddSupport run={run} piece={piece} from={from} />}
          </>
        )}
      </div>
    </>
  )
}
