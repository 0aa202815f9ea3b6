import { useEffect, useId, useMemo } from 'react'
import { useStore } from 'zustand'
import { type Thing, thingName } from '../../skid/measurable.ts'
import type { Measured } from '../../skid/measureBetween.ts'
import { measuredPair, measuredStore } from '../../store/measured.ts'
import {
  chooseThing,
  forgetPair,
  keepPair,
  measureStore,
  type Pair,
  showPair,
} from '../../store/measureStore.ts'
import { meshBodiesOf } from '../../store/meshBodies.ts'
import { modelStore } from '../../store/modelStore.ts'
import { copyText } from '../panels/copyText.ts'
import type { Stage } from '../scene/stage.ts'
import { useSession, useShown } from '../useStore.ts'
import { MeasureLabels } from './MeasureLabels.tsx'
import {
  type Choice,
  choiceOf,
  type Kind,
  kindsOf,
  type Measurables,
  onesOf,
  partsOf,
} from './measureChoices.ts'
import { measureTool } from './measureTool.ts'
import { asText, boundText, gapText, rowsOf } from './measureWords.ts'

/** Pick two things in the picture or choose them here: what lies between them, and the last few measured. */
export function MeasurePanel({ stage }: { readonly stage: Stage }) {
  const document = useShown()
  const unit = useSession(s => s.unit)
  const gap = useSession(s => s.gap)
  const models = useStore(modelStore, s => s.states)
  const { first, second, kept } = useStore(measureStore)
  useEffect(() => measureTool(stage), [stage])

  // biome-ignore lint/correctness/useExhaustiveDependencies: bodies come as their files are read
  const meshes = useMemo(() => meshBodiesOf(document).bodies, [document, models])
  const known = useStore(measuredStore, s => s.known)
  // biome-ignore lint/correctness/useExhaustiveDependencies: answers of the worker come later
  const found = useMemo(
    () => (first && second ? measuredPair(document, meshes, [first, second]) : null),
    [document, first, second, meshes, known],
  )
  const isWaiting = first !== null && second !== null && found === null
  useEffect(() => {
    const drawn =
      found && !('refused' in found) ? { from: found.from, to: found.to, text: gapText(found, unit) } : null
    measureStore.setState({ drawn })
  }, [found, unit])

  const of = (thing: Thing | null): Measurables => ({
    document,
    meshes,
    gap,
    picked: thing?.kind === 'place' ? thing : null,
  })
  return (
    <div className="lookBody">
      <MeasureLabels stage={stage} />
      <Side name="From" of={of(first)} thing={first} onChoose={thing => chooseThing('first', thing)} first />
      <Side name="To" of={of(second)} thing={second} onChoose={thing => chooseThing('second', thing)} />
      <div aria-live="polite">
        {isWaiting && <p className="quiet">Measuring…</p>}
        {!found && !isWaiting && (
          <p className="quiet">
            Click two things in the picture, or choose them here. Alt+click picks the whole tube or solid.
          </p>
        )}
        {found && 'refused' in found && <p className="lookRefused">Not measured: {found.refused}.</p>}
        {found && !('refused' in found) && <Result m={found} />}
      </div>
      {found && (
        <div className="lookButtons">
          <button type="button" onClick={() => measureStore.setState({ first: second, second: first })}>
            Swap
          </button>
          {!('refused' in found) && (
            <>
              <button
                type="button"
                onClick={() => copyText(asText(found, unit), 'The measured figures are on the clipboard.')}
              >
                Copy
              </button>
              <button type="button" onClick={keepPair}>
                Keep in the list
              </button>
            </>
          )}
        </div>
      )}
      {kept.length > 0 && (
        <>
          <h3>Measured before</h3>
          <ul className="lookKept">
            {kept.map(pair => (
              <Kept key={JSON.stringify(pair)} pair={pair} measured={measuredPair(document, meshes, pair)} />
            ))}
          </ul>
        </>
      )}
    </div>
  )
}

function Result({ m }: { readonly m: Measured }) {
  const unit = useSession(s => s.unit)
  return (
    <>
      <p className="lookFigure">
        <strong>{gapText(m, unit)}</strong> <span className="quiet">{boundText(m)}</span>
      </p>
      <p className="lookBetween">
        {m.a} – {m.b}
      </p>
      <dl className="lookRows">
        {rowsOf(m, unit).map(row => (
          <div key={row.name}>
            <dt>{row.name}</dt>
            <dd className="number">{row.value}</dd>
          </div>
        ))}
      </dl>
    </>
  )
}

function Kept({
  pair,
  measured,
}: {
  readonly pair: Pair
  readonly measured: ReturnType<typeof measuredPair>
}) {
  const unit = useSession(s => s.unit)
  const document = useShown()
  const isGone = measured !== null && 'refused' in measured
  const name = isGone
    ? measured.refused
    : measured
      ? `${measured.a} – ${measured.b}`
      : pair.map(thing => thingName(document, thing) ?? '').join(' – ')
  return (
    <li>
      <button type="button" className="lookKeptPair" disabled={isGone} onClick={() => showPair(pair)}>
        <span>{name}</span>
        {!isGone && <b className="number">{measured ? gapText(measured, unit) : '…'}</b>}
      </button>
      <button type="button" aria-label={`Forget ${name}`} title="Forget" onClick={() => forgetPair(pair)}>
        ×
      </button>
    </li>
  )
}

interface SideProps {
  readonly name: string
  readonly of: Measurables
  readonly thing: Thing | null
  readonly onChoose: (thing: Thing | null) => void
  readonly first?: boolean
}

function Side({ name, of, thing, onChoose, first = false }: SideProps) {
  const id = useId()
  const at = thing && choiceOf(of, thing)
  const parts = at ? partsOf(of, at.kind, at.one) : []
  const part = parts.findIndex(p => JSON.stringify(p.thing) === JSON.stringify(thing))
  const takeKind = (kind: Kind | '') => {
    const one = kind && onesOf(of, kind)[0]
    // Another kind of the same run or solid is what is mostly wanted.
    const same = kind && at && onesOf(of, kind).some(c => c.value === at.one) ? at.one : null
    onChoose(kind && one ? (partsOf(of, kind, same ?? one.value)[0]?.thing ?? null) : null)
  }
  return (
    <fieldset className="lookSide">
      <legend>{name}</legend>
      <select
        aria-label={`${name}: what kind`}
        data-first={first || undefined}
        value={at?.kind ?? ''}
        onChange={e => takeKind(e.target.value as Kind | '')}
      >
        <option value="">click, or choose</option>
        {kindsOf(of).map(option)}
      </select>
      {at && (
        <>
          <select
            id={id}
            aria-label={`${name}: which`}
            value={at.one}
            onChange={e => onChoose(partsOf(of, at.kind, e.target.value)[0]?.thing ?? null)}
          >
            {onesOf(of, at.kind).map(option)}
          </select>
          {parts.length > 1 && (
            <select
              aria-label={`${name}: which part`}
              value={part}
              onChange={e => onChoose(parts[Number(e.target.value)]?.thing ?? null)}
            >
              {parts.map((p, i) => option({ value: String(i), text: p.text }))}
            </select>
          )}
        </>
      )}
    </fieldset>
  )
}

const option = ({ value, text }: Choice) => (
  <option key={value} value={value}>
    {text}
  </option>
)
