import { useEffect, useMemo, useState } from 'react'
import { orderMark } from '../../bench/orderMark.ts'
import { orderWords } from '../../bench/orderText.ts'
import { type LengthUnit, parseLength } from '../../document/quantity.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { Finding } from '../../findings/finding.ts'
import { checkedOrder } from '../../outputs/orderOnPaper.ts'
import { OutputError } from '../../outputs/outputError.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { solvedRuns } from '../../store/derived.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { reportOptions } from '../reviewing/reportJob.ts'
import { Modal } from '../shell/Modal.tsx'
import { useFindings } from '../useFindings.ts'
import { useDocument, useSession } from '../useStore.ts'
import { CutListButtons } from './CutListButtons.tsx'
import { CutListPane } from './CutListPane.tsx'
import { MAKES, type Make, nameOf, pagesOf } from './makes.ts'
import { Preview } from './Preview.tsx'
import { keepPaperWishes, type PaperWishes, paperWishes } from './paperWishes.ts'
import { ToleranceFields } from './ToleranceFields.tsx'
import { useJudged } from './useJudged.ts'
import './paper.css'

const BLOCK = [
  ['owner', 'Legal owner'],
  ['number', 'Number'],
  ['creator', 'Creator'],
  ['approver', 'Approved by'],
  ['revision', 'Revision'],
] as const

/** What leaves the app: paper for the shop, lists for the store, solids for the CAD office. */
export default function PaperDialog() {
  const document = useDocument(state => state.settled)
  const unit = useSession(state => state.unit)
  const inHand = useSession(state => state.runInHand)
  const { findings, complete, document: checked } = useFindings()
  const solved = solvedRuns(document)
  const [run, setRun] = useState(inHand ?? document.runs[0]?.id ?? '')
  const [make, setMake] = useState<Make>(MAKES[0]!)
  const [wishes, setWishes] = useState<PaperWishes>(paperWishes)
  const [refused, setRefused] = useState('')
  const [saving, setSaving] = useState(false)
  useEffect(() => keepPaperWishes(wishes), [wishes])
  const wish = (patch: Partial<PaperWishes>) => setWishes({ ...wishes, ...patch })

  const chosen = useMemo(() => (run === '' ? solved : solved.filter(s => s.runId === run)), [solved, run])
  const asked = wishes.leading === 'checked' ? null : wishes.leading
  const judged = useJudged(document, chosen.length === 1 ? (chosen[0] ?? null) : null, asked)
  const job = useMemo(
    () => ({
      document,
      solved: chosen,
      all: solved,
      unit,
      wishes,
      measured: barsOf(wishes, unit),
      // A sheet that was not checked to the end says "not checked", never "released".
      findings: complete && checked === document ? findings : null,
      judged,
      review: reportOptions(document, findings, complete && checked === document, unit),
    }),
    [document, chosen, solved, unit, wishes, findings, judged, complete, checked],
  )
  const pages = useMemo(() => {
    try {
      return { pages: pagesOf(make, job), reason: '' }
    } catch (error) {
      if (!(error instanceof OutputError)) throw error
      return { pages: [], reason: error.message }
    }
  }, [make, job])

  const save = async () => {
    if (!make.write) return
    setSaving(true)
    try {
      const { data, name, type } = await make.write(job)
      download(fileNameFor(`${document.name} ${name}`, make.ending), data, type)
      sessionStore.getState().say(`${make.label}: sent to the browser’s downloads.`)
      setRefused('')
    } catch (error) {
      if (!(error instanceof OutputError)) throw error
      setRefused(error.message)
    } finally {
      setSaving(false)
    }
  }
  const withBlock = make.id === 'sheet' || make.id === 'review'
  const badBars = make.id === 'strip' && job.measured === 'bad'
  return (
    <Modal
      title="Paper and files"
      buttons={
        make.write ? (
          <button type="button" className="primary" onClick={() => void save()} disabled={badBars || saving}>
            Save {make.label.toLowerCase()}
          </button>
        ) : (
          <CutListButtons paper={wishes.paper} name={nameOf(job)} findings={job.findings} />
        )
      }
    >
      <div className="paper">
        <form className="paperChoices" onSubmit={e => e.preventDefault()}>
          <label>
            Run
            <select value={run} onChange={e => setRun(e.target.value)}>
              <option value="">All {document.runs.length} runs</option>
              {document.runs.map(r => (
                <option key={r.id} value={r.id}>
                  {visibleText(r.tag)}
                </option>
              ))}
            </select>
          </label>
          <fieldset className="makes">
            <legend>What to make</legend>
            {MAKES.map(m => (
              <label key={m.id} className="make">
                <input type="radio" name="make" checked={m === make} onChange={() => setMake(m)} />
                <span>
                  <b>{m.label}</b>
                  {m === make && <span className="quiet">{m.tells}</span>}
                </span>
              </label>
            ))}
          </fieldset>
          {make.paper && (
            <label>
              Paper
              <select
                value={wishes.paper}
                onChange={e => wish({ paper: e.target.value as PaperWishes['paper'] })}
              >
                <option>A4</option>
                <option>A3</option>
                <option>Letter</option>
              </select>
            </label>
          )}
          {make.bench && (
            <label>
              Order of the bends
              <select
                value={wishes.leading}
                onChange={e => wish({ leading: e.target.value as PaperWishes['leading'] })}
              >
                <option value="checked">Proposed: {orderAsChecked(chosen, findings)}</option>
                <option value="A">End A first</option>
                <option value="B">End B first</option>
              </select>
            </label>
          )}
          {withBlock &&
            BLOCK.map(([key, label]) => (
              <label key={key}>
                {label}
                <input value={wishes[key]} onChange={e => wish({ [key]: e.target.value })} />
              </label>
            ))}
          {make.id === 'sheet' && <ToleranceFields wishes={wishes} wish={wish} />}
          {(make.id === 'sheet' || make.id === 'strip') && (
            <fieldset className="override">
              <legend>Release with open findings</legend>
              <label>
                Who
                <input value={wishes.overrideBy} onChange={e => wish({ overrideBy: e.target.value })} />
              </label>
              <label>
                Why
                <input
                  value={wishes.overrideReason}
                  onChange={e => wish({ overrideReason: e.target.value })}
                />
              </label>
              <p className="quiet">Enter both, or it stays “not released”. Both are printed in the stamp.</p>
            </fieldset>
          )}
          {make.id === 'strip' && (
            <fieldset>
              <legend>Bars as printed, if not 100 mm</legend>
              <label>
                X bar
                <input value={wishes.barX} placeholder="100" onChange={e => wish({ barX: e.target.value })} />
              </label>
              <label>
                Y bar
                <input value={wishes.barY} placeholder="100" onChange={e => wish({ barY: e.target.value })} />
              </label>
              <label>
                Printer
                <input
                  value={wishes.printer}
                  placeholder="its name"
                  onChange={e => wish({ printer: e.target.value })}
                />
              </label>
              <p className="quiet">The strip states the correction and the printer.</p>
              {badBars && (
                <p className="refusal" role="alert">
                  A bar is a length, such as 99.6mm; leave the correct one empty.
                </p>
              )}
            </fieldset>
          )}
          <p className="refusal" role="alert">
            {refused}
          </p>
        </form>
        {make.write ? (
          <Preview pages={pages.pages} reason={pages.reason} />
        ) : (
          <CutListPane document={document} solved={chosen} findings={job.findings} />
        )}
      </div>
    </Modal>
  )
}

/** The order that a sheet goes by of itself, in words. */
function orderAsChecked(chosen: readonly SolvedRun[], findings: readonly Finding[]): string {
  const [one, more] = chosen
  if (!one || more) return 'each run its own'
  const order = checkedOrder(one, findings)
  const mark = orderMark(order)
  return mark === '' || mark === 'B' ? `end ${mark || 'A'} first` : orderWords(order)
}

/** The measured bars in mm, one of them or both; undefined when none was typed, 'bad' when one cannot be read. */
function barsOf(
  { barX, barY }: PaperWishes,
  unit: LengthUnit,
): { x?: number; y?: number } | undefined | 'bad' {
  const bars: { x?: number; y?: number } = {}
  for (const [axis, text] of [
    ['x', barX],
    ['y', barY],
  ] as const) {
    if (!text.trim()) continue
    const read = parseLength(text, unit)
    if (!read.ok) return 'bad'
    bars[axis] = read.mm
  }
  return Object.keys(bars).length === 0 ? undefined : bars
}
