import { useEffect, useMemo, useState } from 'react'
import { orderMark } from '../../bender/orderMark.ts'
import { orderWords } from '../../bender/orderText.ts'
import { type LengthUnit, parseLength } from '../../document/quantity.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { Finding } from '../../findings/finding.ts'
import { OutputError } from '../../outputs/outputError.ts'
import { checkedOrder } from '../../outputs/sheetBendOrder.ts'
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
import { EXPORT_CATALOGUE, type Make, nameOf, pagesOf } from './exportCatalogue.ts'
import { Preview } from './Preview.tsx'
import { keepPaperSettings, type PaperSettings, paperSettings } from './paperSettings.ts'
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
  const [make, setMake] = useState<Make>(EXPORT_CATALOGUE[0]!)
  const [settings, setSettings] = useState<PaperSettings>(paperSettings)
  const [refused, setRefused] = useState('')
  const [saving, setSaving] = useState(false)
  useEffect(() => keepPaperSettings(settings), [settings])
  const change = (patch: Partial<PaperSettings>) => setSettings({ ...settings, ...patch })

  const chosen = useMemo(() => (run === '' ? solved : solved.filter(s => s.runId === run)), [solved, run])
  const asked = settings.leading === 'checked' ? null : settings.leading
  const judged = useJudged(document, chosen.length === 1 ? (chosen[0] ?? null) : null, asked)
  const job = useMemo(
    () => ({
      document,
      solved: chosen,
      all: solved,
      unit,
      settings,
      measured: barsOf(settings, unit),
      // A sheet that was not checked to the end says "not checked", never "released".
      findings: complete && checked === document ? findings : null,
      judged,
      review: reportOptions(document, findings, complete && checked === document, unit),
    }),
    [document, chosen, solved, unit, settings, findings, judged, complete, checked],
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
          <CutListButtons paper={settings.paper} name={nameOf(job)} findings={job.findings} />
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
            {EXPORT_CATALOGUE.map(m => (
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
                value={settings.paper}
                onChange={e => change({ paper: e.target.value as PaperSettings['paper'] })}
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
                value={settings.leading}
                onChange={e => change({ leading: e.target.value as PaperSettings['leading'] })}
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
                <input value={settings[key]} onChange={e => change({ [key]: e.target.value })} />
              </label>
            ))}
          {make.id === 'sheet' && <ToleranceFields settings={settings} change={change} />}
          {(make.id === 'sheet' || make.id === 'strip') && (
            <fieldset className="override">
              <legend>Release with open findings</legend>
              <label>
                Who
                <input value={settings.overrideBy} onChange={e => change({ overrideBy: e.target.value })} />
              </label>
              <label>
                Why
                <input
                  value={settings.overrideReason}
                  onChange={e => change({ overrideReason: e.target.value })}
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
                <input
                  value={settings.barX}
                  placeholder="100"
                  onChange={e => change({ barX: e.target.value })}
                />
              </label>
              <label>
                Y bar
                <input
                  value={settings.barY}
                  placeholder="100"
                  onChange={e => change({ barY: e.target.value })}
                />
              </label>
              <label>
                Printer
                <input
                  value={settings.printer}
                  placeholder="its name"
                  onChange={e => change({ printer: e.target.value })}
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
  { barX, barY }: PaperSettings,
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
