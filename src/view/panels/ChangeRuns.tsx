import { type ReactNode, useDeferredValue, useId, useMemo, useState } from 'react'
import { MATERIALS } from '../../catalogue/materials.ts'
import { TUBE_SIZES, tubeSize } from '../../catalogue/tubeSizes.ts'
import { changeOutcome } from '../../checks/changeOutcome.ts'
import { changeRuns } from '../../document/bulkEdits.ts'
import { SAME_FIGURE_MM } from '../../document/lookUp.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { showDialog } from '../shell/dialogStore.ts'
import { Modal } from '../shell/Modal.tsx'
import { useDocument, useSession } from '../useStore.ts'
import { ChangeTold } from './ChangeTold.tsx'
import { sharedNow, WISH_WORDS, type Wished, type Wishes, wishedChange } from './wishedChange.ts'
import './changeRuns.css'

/** What several runs are to have in common: only what is ticked changes. Told before it is done; one undo. */
export default function ChangeRuns({ ids }: { ids: readonly string[] }) {
  const document = useDocument(s => s.settled)
  const unit = useSession(s => s.unit)
  const [wishes, setWishes] = useState<Wishes>({})
  const [refused, setRefused] = useState<string | null>(null)
  const wanted = useMemo(() => new Set(ids), [ids])
  const runs = useMemo(() => document.runs.filter(r => wanted.has(r.id)), [document, wanted])
  const late = useDeferredValue(wishes)
  const told = useMemo(() => {
    const { change, faults } = wishedChange(late, unit)
    if (faults.length > 0) return { refused: faults }
    if (Object.keys(change).length === 0) return null
    const next = changeRuns(document, wanted, change)
    return 'refused' in next ? next : changeOutcome(document, next)
  }, [document, wanted, late, unit])

  const wish = (key: Wished, value: string | undefined) => {
    setRefused(null)
    setWishes(({ [key]: _, ...rest }) => (value === undefined ? rest : { ...rest, [key]: value }))
  }
  const keys = (Object.keys(wishes) as Wished[]).filter(
    k => !(['od', 'wall'] as Wished[]).includes(k) || wishes.size === '',
  )
  const apply = () => {
    const { change, faults } = wishedChange(wishes, unit)
    if (faults.length > 0) return setRefused(faults.join(' '))
    const what = keys.map(k => WISH_WORDS[k].toLowerCase()).join(', ')
    const why = applyEdit(`Change ${what} of ${runs.length} runs`, settled => {
      const next = changeRuns(settled, wanted, change)
      return 'refused' in next ? { refused: next.refused.join(' ') } : next
    })
    if (why !== null) return setRefused(why)
    showDialog(null)
    sessionStore.getState().say(`Changed ${what} of ${runs.length} runs. One undo takes all of it back.`)
  }
  const show = (mm: number) => `${lengthKind(unit).show(mm)} ${lengthUnitWord(unit)}`
  const benderName = (id: string | null) =>
    id === null ? 'none chosen' : (document.benders.find(b => b.id === id)?.name ?? `missing: ${id}`)
  const sizes = [...TUBE_SIZES].sort((a, b) =>
    a.system === b.system ? 0 : (a.system === 'mm') === (unit === 'mm') ? -1 : 1,
  )
  const row = (key: Wished, now: (run: Run) => string, first: string, field: Field) => (
    <WishRow
      name={WISH_WORDS[key]}
      now={sharedNow(runs, now)}
      on={wishes[key] !== undefined}
      tick={on => wish(key, on ? first : undefined)}
    >
      {id => field(id, wishes[key] ?? '', value => wish(key, value))}
    </WishRow>
  )
  const dies = diesFor(document, runs, wishes).map(({ clr, bender }) => ({
    text: lengthKind(unit).exact(clr),
    name: `${show(clr)} on ${bender}`,
  }))
  const length: Field = (id, value, change) => (
    <>
      <input id={id} autoComplete="off" value={value} onChange={e => change(e.currentTarget.value)} />
      <span className="unit">{lengthUnitWord(unit)}</span>
    </>
  )
  const text: Field = (id, value, change) => (
    <input id={id} autoComplete="off" value={value} onChange={e => change(e.currentTarget.value)} />
  )
  const pick =
    (choices: readonly (readonly [string, string])[]): Field =>
    (id, value, change) => (
      <select id={id} value={value} onChange={e => change(e.currentTarget.value)}>
        {choices.map(([key, name]) => (
          <option key={key} value={key}>
            {name}
          </option>
        ))}
      </select>
    )
  return (
    <Modal
      title={`Change ${runs.length === 1 ? runs[0]!.tag : `${runs.length} runs`}`}
      buttons={
        <button
          type="button"
          className="primary"
          disabled={told === null || 'refused' in told || told.changed === 0 || late !== wishes}
          onClick={apply}
        >
          {told && 'changed' in told && told.changed > 0
            ? `Change ${told.changed} ${told.changed === 1 ? 'run' : 'runs'}`
            : 'Change'}
        </button>
      }
    >
      <p className="quiet">Tick what to set for all of them; the rest stays as it is in each run.</p>
      <form className="wishes" onSubmit={e => e.preventDefault()}>
        {row(
          'size',
          r => tubeSizeText(r.tube, unit),
          sizes[0]?.id ?? '',
          (id, value, change) => (
            <>
              {pick([['', 'Custom OD and wall'], ...sizes.map(s => [s.id, s.name] as const)])(
                id,
                value,
                change,
              )}
              {value === '' &&
                (['od', 'wall'] as const).map(key => (
                  <label key={key} htmlFor={`${id}-${key}`} className="own-size">
                    {WISH_WORDS[key]}
                    {length(`${id}-${key}`, wishes[key] ?? '', v => wish(key, v))}
                  </label>
                ))}
            </>
          ),
        )}
        {row(
          'material',
          r => r.tube.material,
          '',
          (id, value, change) => (
            <>
              <input
                id={id}
                list={`${id}-list`}
                autoComplete="off"
                value={value}
                onChange={e => change(e.currentTarget.value)}
              />
              <datalist id={`${id}-list`}>
                {MATERIALS.map(m => (
                  <option key={m.id} value={m.id} />
                ))}
              </datalist>
            </>
          ),
        )}
        {row(
          'bender',
          r => benderName(r.bender),
          '',
          pick([['', 'none chosen'], ...document.benders.map(b => [b.id, b.name] as const)]),
        )}
        {row(
          'clr',
          r => show(r.clr),
          '',
          (id, value, change) => (
            <>
              {dies.length > 0 && (
                <select
                  aria-label="CLR of a die at hand"
                  value={dies.some(d => d.text === value) ? value : ''}
                  onChange={e => change(e.currentTarget.value)}
                >
                  <option value="">another</option>
                  {dies.map(d => (
                    <option key={d.text} value={d.text}>
                      {d.name}
                    </option>
                  ))}
                </select>
              )}
              {length(id, value, change)}
            </>
          ),
        )}
        {row('service', r => r.service, '', text)}
        {row('insulation', r => show(r.insulation), '', length)}
        {row(
          'insulationCutBack',
          r => (r.insulationCutBack === undefined ? 'past the nut' : show(r.insulationCutBack)),
          '',
          length,
        )}
        {row('trimAllowance', r => show(r.trimAllowance), '', length)}
        {row('quantity', r => String(r.quantity), '', text)}
      </form>
      <ChangeTold told={told} of={runs.length} />
      {refused && (
        <p role="alert" className="field-reason">
          {refused}
        </p>
      )}
    </Modal>
  )
}

/**
 * The dies of the benders that the runs are to be bent on (the chosen one, else theirs) for the ODs that they are to
 * have, by their CLR, mm.
 */
function diesFor(
  document: SkidDocument,
  runs: readonly Run[],
  wishes: Wishes,
): readonly { readonly clr: number; readonly bender: string }[] {
  const od = wishes.size ? tubeSize(wishes.size)?.od : undefined
  const ids = new Set(wishes.bender === undefined ? runs.map(r => r.bender) : [wishes.bender])
  const ods = od === undefined ? runs.map(r => r.tube.od) : [od]
  const found = document.benders
    .filter(b => ids.has(b.id))
    .flatMap(b =>
      b.tooling
        .filter(t => ods.some(o => Math.abs(o - t.od) <= SAME_FIGURE_MM))
        .map(t => ({ clr: t.clr, bender: b.name })),
    )
  return found.filter((d, i) => found.findIndex(o => o.clr === d.clr) === i).sort((a, b) => a.clr - b.clr)
}

type Field = (id: string, value: string, change: (value: string) => void) => ReactNode

/** One thing to change: a tick, what the runs have now and, when ticked, the field for the new. */
function WishRow(props: {
  name: string
  now: string
  on: boolean
  tick: (on: boolean) => void
  children: (id: string) => ReactNode
}) {
  const id = useId()
  return (
    <div className="wish">
      <label className="wish-tick">
        <input
          type="checkbox"
          checked={props.on}
          aria-label={`Change ${props.name}`}
          onChange={e => props.tick(e.currentTarget.checked)}
        />
        {props.name}
      </label>
      <span className="wish-now">{props.now}</span>
      {props.on ? (
        <span className="wish-new">
          <label htmlFor={id} className="hidden-label">
            {`New ${props.name}`}
          </label>
          {props.children(id)}
        </span>
      ) : (
        <span className="wish-new quiet">unchanged in each run</span>
      )}
    </div>
  )
}
