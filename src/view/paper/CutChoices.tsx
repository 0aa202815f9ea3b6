import { useState } from 'react'
import { useStore } from 'zustand'
import { type TubeKind, tubeKindName } from '../../outputs/stockWords.ts'
import { changeCut, cutStore } from '../../store/cutStore.ts'
import { countKind, lengthKind } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import { SettingField } from './SettingField.tsx'

const above0 = (mm: number) => (mm > 0 ? null : 'A length is above 0.')
const from0 = (mm: number) => (mm >= 0 ? null : '0 or more.')
const nextId = (rows: readonly { readonly id: number }[]) => Math.max(0, ...rows.map(r => r.id)) + 1

/** What lies in the store and what the saw takes. */
export function CutChoices({ kinds }: { kinds: readonly TubeKind[] }) {
  const settings = useStore(cutStore, state => state.settings)
  const unit = useSession(state => state.unit)
  const kind = lengthKind(unit)
  const [added, setAdded] = useState('')
  const { own, leftovers } = settings
  const here = kinds.map(tubeKindName)
  const changeOwn = (id: number, patch: Partial<(typeof own)[number]>) =>
    changeCut({ own: own.map(s => (s.id === id ? { ...s, ...patch } : s)) })
  const changeLeftover = (id: number, patch: Partial<(typeof leftovers)[number]>) =>
    changeCut({ leftovers: leftovers.map(r => (r.id === id ? { ...r, ...patch } : r)) })
  return (
    <form className="cutChoices" onSubmit={e => e.preventDefault()}>
      <fieldset>
        <legend>Lengths to buy</legend>
        <label className="cutTick">
          <input
            type="checkbox"
            checked={settings.sixMetres}
            onChange={e => changeCut({ sixMetres: e.currentTarget.checked })}
          />
          6 m
        </label>
        <label className="cutTick">
          <input
            type="checkbox"
            checked={settings.twentyFeet}
            onChange={e => changeCut({ twentyFeet: e.currentTarget.checked })}
          />
          20 ft <span className="quiet">(6096 mm)</span>
        </label>
        {own.map((s, i) => (
          <div className="cutRow" key={s.id}>
            <SettingField
              name={`Custom length ${i + 1}`}
              hideName
              kind={kind}
              value={s.length}
              refuse={above0}
              autoFocus={added === `own${s.id}`}
              onChange={length => changeOwn(s.id, { length: length ?? s.length })}
            />
            <span aria-hidden="true">×</span>
            <SettingField
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
              onClick={() => changeCut({ own: own.filter(o => o.id !== s.id) })}
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
            changeCut({ own: [...own, { id, length: 3000, count: null }] })
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
              <SettingField
                name={`Leftover ${i + 1}, length`}
                hideName
                kind={kind}
                value={r.length}
                refuse={above0}
                autoFocus={added === `left${r.id}`}
                onChange={length => changeLeftover(r.id, { length: length ?? r.length })}
              />
              <span aria-hidden="true">×</span>
              <SettingField
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
                onClick={() => changeCut({ leftovers: leftovers.filter(o => o.id !== r.id) })}
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
            changeCut({ leftovers: [...leftovers, { id, length: 1000, count: 1, ...tube }] })
          }}
        >
          Add a leftover
        </button>
      </fieldset>
      <fieldset>
        <legend>Saw and store</legend>
        <SettingField
          name="Kerf"
          kind={kind}
          value={settings.kerf}
          refuse={from0}
          onChange={kerf => changeCut({ kerf: kerf ?? settings.kerf })}
        />
        <SettingField
          name="Trim off each end"
          kind={kind}
          value={settings.endTrim}
          refuse={from0}
          onChange={endTrim => changeCut({ endTrim: endTrim ?? settings.endTrim })}
        />
        <SettingField
          name="Keep leftovers from"
          kind={kind}
          value={settings.leastRemnant}
          refuse={from0}
          onChange={leastRemnant => changeCut({ leastRemnant: leastRemnant ?? settings.leastRemnant })}
        />
      </fieldset>
    </form>
  )
}
