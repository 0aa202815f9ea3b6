import { useEffect, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { Finding } from '../../findings/finding.ts'
import { runStates } from '../../outputs/releaseState.ts'
import { tubeKinds } from '../../outputs/stockWords.ts'
import { stateLines } from '../../outputs/writeCutList.ts'
import type { SolvedRun } from '../../solve/types.ts'
import {
  type CutState,
  cutStore,
  leaveCutList,
  nestRuns,
  nestSoon,
  stopNesting,
} from '../../store/cutStore.ts'
import { CutBars } from './CutBars.tsx'
import { CutChoices } from './CutChoices.tsx'
import { MaterialTable } from './MaterialTable.tsx'
import './cutList.css'

interface Props {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  /** Of the whole document; null while they are not all known. */
  readonly findings: readonly Finding[] | null
}

/** The cut list to read and to change: choices, each bar to scale, what is left out, what to order. */
export function CutListPane({ document, solved, findings }: Props) {
  const { doing, result, refusedFields } = useStore(cutStore)
  useEffect(() => nestRuns(document, solved), [document, solved])
  useEffect(() => leaveCutList, [])
  const kinds = useMemo(() => tubeKinds(document.runs.map(r => r.tube)), [document])
  const states = useMemo(() => runStates(document, solved, findings), [document, solved, findings])
  const shown = doing.state === 'refused' ? null : result
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section className="preview cutPane" aria-label="Cut list" tabIndex={0}>
      <CutChoices kinds={kinds} />
      <Doing doing={doing} />
      {refusedFields.size > 0 && (
        <p className="refusal">
          One entry above is invalid. The list ignores it and cannot be saved until it is corrected.
        </p>
      )}
      {shown && (
        <div aria-busy={doing.state === 'working'} className={doing.state === 'done' ? '' : 'cutOld'}>
          {shown.list.groups.length === 0 ? (
            <p>There is no run to cut.</p>
          ) : (
            <p className="cutLegend" aria-hidden="true">
              <span className="cutSwatch piece" /> piece
              <span className="cutSwatch remnant" /> leftover, kept
              <span className="cutSwatch scrap" /> scrap
              <span className="cutSwatch trim" /> end trim
            </p>
          )}
          {shown.list.leftOut.length > 0 && (
            <div className="cutLeftOut">
              <h3>Not in the list</h3>
              <ul>
                {shown.list.leftOut.map(l => (
                  <li key={l.tag}>
                    <b>{visibleText(l.tag)}</b>: {l.reason}
                  </li>
                ))}
              </ul>
            </div>
          )}
          <div className="cutStates">
            <h3>Release state</h3>
            <ul>
              {stateLines(shown.list, states).map(text => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </div>
          {shown.list.groups.map(g => (
            <CutBars key={`${g.od} ${g.wall} ${g.material}`} group={g} endTrim={shown.list.endTrim} />
          ))}
          <MaterialTable material={shown.material} />
        </div>
      )}
    </section>
  )
}

function Doing({ doing }: { doing: CutState['doing'] }) {
  const working = doing.state === 'working'
  const [seconds, setSeconds] = useState(0)
  useEffect(() => {
    if (!working) return
    setSeconds(0)
    const tick = setInterval(() => setSeconds(s => s + 1), 1000)
    return () => clearInterval(tick)
  }, [working])
  if (doing.state === 'refused')
    return (
      <p className="refusal" role="alert">
        {doing.reason}
      </p>
    )
  if (doing.state === 'stopped')
    return (
      <p className="cutDoing">
        <span role="status">Stopped: any list shown is for earlier choices.</span>
        <button type="button" className="small" onClick={nestSoon}>
          Calculate
        </button>
      </p>
    )
  if (!working) return <p className="cutDoing done" role="status" />
  return (
    <p className="cutDoing">
      <span role="status">Calculating…</span>
      {seconds > 0 && (
        <span className="quiet">
          {`${seconds} s${doing.of > 1 ? `, ${doing.done} of ${doing.of} tube sizes done` : ''}`}
        </span>
      )}
      {seconds > 0 && (
        <button type="button" className="small" onClick={stopNesting}>
          Stop
        </button>
      )}
    </p>
  )
}
