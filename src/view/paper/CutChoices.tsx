import { useState } from 'react'
import { useStore } from 'zustand'
import { type TubeKind, tubeKindName } from '../../outputs/stockWords.ts'
import { cutStore, wishCut } from '../../store/cutStore.ts'
import { countKind, lengthKind } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import { WishField } from './WishField.tsx'

const above0 = (mm: number) => (mm > 0 ? null : 'A length is above 0.')
const from0 = (mm: number) => (mm >= 0 ? null : '0 or more.')
const nextId = (rows: readonly { readonly id: number }[]) => Math.max(0, ...rows.map(r => r.id)) + 1

/** What lies in the store and what the saw takes. */
export function CutChoices({ kinds }: { kinds: readonly TubeKind[] }) {
  const wishes = useStore(cutStore, state => state.wishes)
  const unit = useSession(state => state.unit)
  const kind = lengthKind(unit)
  const [added, setAdded] = useState('')
  const { own, leftovers } = wishes
  const here = kinds.map(tubeKindName)
  const changeOwn = (id: number, patch: Partial<(typeof own)[number]>) =>
    wishCut({ own: own.map(s => (s.id === id ? { ...s, ...patch } : s)) })
  const changeLeftover = (id: number, patch: Partial<(typeof leftovers)[number]>) =>
    wishCut({ leftovers: leftovers.map(r => (r.id === id ? { ...r, ...patch } : r)) })
  return (
    <form className="cutChoices" onSubmit={e => e.preventDefault()}>
      <fieldset>
        <legend>Lengths to buy</legend>
        <label className="cutTick">
          <input
            type="checkbox"
            checked={wishes.sixMetres}
            onChange={e => wishCut({ sixMetres: e.currentTarget.checked })}
          />
          6 m
        </label>
        <label className="cutTick">
          <input
            type="checkbox"
            checked={wishes.twentyFeet}
            onChange={e => wishCut({ twentyFeet: e.currentTarget.checked })}
          />
          20 ft <span className="quiet">(6096 mm)</span>
        </label>
        {own.map((s, i) => (
          <div className="cutRow" key={s.id}>
            <WishField
              name={`Custom length ${i + 1}`}
              hideName
              kind={kind}
              value={s.length}
              refuse={above0}
              autoFocus={added === `own${s.id}`}
              onChange={length => changeOwn(s.id, { length: length ?? s.length })}
            />
            <span aria-hidden="true">×</span>
            <WishField
              name={`How many of custom length ${i + 1}`}
              hideName
              kind={countKind}
              value={s.count}
              empty="any"
              refuse={() => null}
              onChange={count => changeOwn(s.id, { count })}
            />
            <button
              type="button"
              className="small"
              aria-label={`Remove custom length ${i + 1}`}
              onClick={() => wishCut({ own: own.filter(o => o.id !== s.id) })}
            >
              ✕
            </button>
          </div>
        ))}
        <button
          type="button"
          className="small"
          onClick={() => {
            const id = nextId(own)
            setAdded(`own${id}`)
            wishCut({ own: [...own, { id, length: 3000, count: null }] })
          }}
        >
          Add a length
        </button>
      </fieldset>
      <fieldset>
        <legend>Leftovers to use up</legend>
        {leftovers.length === 0 && <p className="quiet">None. Leftovers cost nothing and are used first.</p>}
        {leftovers.map((r, i) => {
          const name = tubeKindName(r)
          return (
            <div className="cutRow leftover" key={r.id}>
              <WishField
                name={`Leftover ${i + 1}, length`}
                hideName
                kind={kind}
                value={r.length}
                refuse={above0}
                autoFocus={added === `left${r.id}`}
                onChange={length => changeLeftover(r.id, { length: length ?? r.length })}
              />
              <span aria-hidden="true">×</span>
              <WishField
                name={`Leftover ${i + 1}, how many`}
                hideName
                kind={countKind}
                value={r.count}
                refuse={() => null}
                onChange={count => changeLeftover(r.id, { count: count ?? r.count })}
              />
              <button
                type="button"
                className="small"
                aria-label={`Remove leftover ${i + 1}`}
                onClick={() => wishCut({ leftovers: leftovers.filter(o => o.id !== r.id) })}
              >
                ✕
              </button>
              <select
                aria-label={`Leftover ${i + 1}, of which tube`}
                value={name}
                onChange={e => {
                  const tube = kinds.find(k => tubeKindName(k) === e.currentTarget.value)
                  if (tube) changeLeftover(r.id, tube)
                }}
              >
                {(here.includes(name) ? here : [name, ...here]).map(k => (
                  <option key={k} value={k}>
                    {here.includes(k) ? k : `${k}: no run uses it`}
                  </option>
                ))}
              </select>
            </div>
          )
        })}
        <button
          type="button"
          className="small"
          disabled={kinds.length === 0}
          onClick={() => {
            const [tube] = kinds
            if (!tube) return
            const id = nextId(leftovers)
            setAdded(`left${id}`)
            wishCut({ leftovers: [...leftovers, { id, length: 1000, count: 1, ...tube }] })
          }}
        >
          Add a leftover
        </button>
      </fieldset>
      <fieldset>
        <legend>Saw and store</legend>
        <WishField
          name="Kerf"
          kind={kind}
          value={wishes.kerf}
          refuse={from0}
          onChange={kerf => wishCut({ kerf: kerf ?? wishes.kerf })}
        />
        <WishField
          name="Trim off each end"
          kind={kind}
          value={wishes.endTrim}
          refuse={from0}
          onChange={endTrim => wishCut({ endTrim: endTrim ?? wishes.endTrim })}
        />
        <WishField
          name="Keep leftovers from"
          kind={kind}
          value={wishes.leastRemnant}
          refuse={from0}
          onChange={leastRemnant => wishCut({ leastRemnant: leastRemnant ?? wishes.leastRemnant })}
        />
      </fieldset>
    </form>
  )
}
