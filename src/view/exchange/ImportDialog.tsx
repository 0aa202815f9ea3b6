import { useMemo, useState } from 'react'
import { readLaidOut } from '../../document/readLaidOut.ts'
import type { TableError } from '../../document/tableError.ts'
import { likelyLayout, type TableLayout } from '../../document/tableLayout.ts'
import type { SkidDocument } from '../../document/types.ts'
import { documentStore } from '../../store/documentStore.ts'
import { openWithoutFile } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { showDialog } from '../shell/dialogStore.ts'
import { lookAtAll, unlessLost } from '../shell/documentActions.ts'
import { Modal } from '../shell/Modal.tsx'
import { useDocument, useSession } from '../useStore.ts'
import { Destination } from './Destination.tsx'
import { importRuns } from './importRuns.ts'
import { isOfComma } from './isOfComma.ts'
import { LayoutChoices } from './LayoutChoices.tsx'
import { FIRST_PLACE, type Place, startOf } from './placeChoice.ts'
import { RoutePicture } from './RoutePicture.tsx'
import { TablePreview } from './TablePreview.tsx'
import { type Source, TableText } from './TableText.tsx'
import './exchange.css'

/** Takes a table in: what its columns are is shown, asked and corrected before anything comes of it. */
export default function ImportDialog({ source: given }: { source: Source | null }) {
  const document = useDocument(state => state.settled)
  const unit = useSession(state => state.unit)
  const inHand = useSession(state => state.runInHand)
  const [source, setSource] = useState<Source>(given ?? { name: '', text: '' })
  const [settled, setSettled] = useState<Partial<TableLayout>>({})
  const [lengths, setLengths] = useState<'straights' | 'legs'>('straights')
  const [place, setPlace] = useState<Place>({ ...FIRST_PLACE, like: inHand ?? document.runs[0]?.id ?? '' })
  const layout = useMemo(
    () => likelyLayout(source.text, settled, unit === 'mm' ? 'mm' : 'in'),
    [source, settled, unit],
  )
  const reading = useMemo(() => readLaidOut(source.text, layout), [source, layout])
  const isCommaOpen = settled.figures === undefined
  const hasText = source.text.trim() !== ''
  const like = document.runs.find(r => r.id === place.like) ?? null
  const start = useMemo(
    () => startOf(document, place, layout.kind, unit),
    [document, place, layout.kind, unit],
  )
  const taken = useMemo(() => {
    if (reading.errors.length > 0) return null
    if (!start.ok) return start
    const target =
      place.target === 'replace' && like
        ? ({ kind: 'replace', run: like.id } as const)
        : place.target === 'newSkid'
          ? ({ kind: 'newSkid', name: nameOf(source) } as const)
          : ({ kind: 'newRuns' } as const)
    return importRuns(document, reading.runs, target, like, { start: start.start, lengths })
  }, [document, reading, place, like, start, lengths, source])

  const change = (patch: Partial<TableLayout>) => {
    const rest = { ...settled }
    // Other columns come of another cut or another kind: what was said of the old ones means nothing for them.
    if (patch.delimiter || patch.kind) {
      delete rest.roles
      delete rest.columnUnits
    }
    if (patch.delimiter || patch.header !== undefined) delete rest.struck
    setSettled({ ...rest, ...patch })
  }
  const read = (next: Source) => {
    // Mending a cell leaves what was said about the columns; another table is looked at afresh. Rows may have moved.
    const isSameTable = headLine(next.text) === headLine(source.text)
    setSource(next)
    if (!isSameTable) setSettled({})
    else if (settled.struck) change({ struck: new Set() })
  }
  const made = taken?.ok ? taken : null
  const go = () => {
    if (made) finish(made, place.target, layout.struck.size, source)
  }
  return (
    <Modal
      title="Import a table"
      buttons={
        <>
          {hasText && (
            <output className="importState">
              {stateOf(reading.errors, isCommaOpen, taken && !taken.ok ? taken.reason : '')}
            </output>
          )}
          <button type="button" className="primary" disabled={!made} onClick={go}>
            {verbOf(place.target, made?.runs.length ?? 1, like?.tag)}
          </button>
        </>
      }
    >
      <div className={hasText ? 'exchange' : 'exchange unfed'}>
        {hasText && (
          <form className="exchangeChoices" onSubmit={event => event.preventDefault()}>
            <LayoutChoices
              layout={layout}
              figuresSaid={!isCommaOpen}
              reading={reading}
              lengths={lengths}
              change={change}
              setLengths={setLengths}
            />
            <Destination
              document={document}
              kind={layout.kind}
              runs={reading.runs.length}
              place={place}
              problem={start.ok ? '' : start.reason}
              change={patch => setPlace({ ...place, ...patch })}
            />
          </form>
        )}
        <div className="exchangeRight">
          <TableText source={source} hasText={hasText} read={read} />
          {hasText && (
            <>
              <TablePreview
                layout={layout}
                reading={reading}
                isCommaOpen={isCommaOpen}
                unit={unit}
                change={change}
              />
              <RoutePicture made={made} unit={unit} says={made?.says ?? []} />
            </>
          )}
        </div>
      </div>
    </Modal>
  )
}

const headLine = (text: string) => /[^\r\n]*/.exec(text.trimStart())?.[0]
const nameOf = ({ name }: Source) => name.replace(/\.[^.]*$/, '') || 'Imported skid'

function stateOf(errors: readonly TableError[], isCommaOpen: boolean, reason: string): string {
  const commas = isCommaOpen ? errors.filter(isOfComma).length : 0
  const faults = errors.length - commas
  const states = [
    commas > 0 ? 'First choose what a comma means.' : '',
    faults > 0
      ? `${faults === 1 ? 'One thing is wrong' : `${faults} things are wrong`}: nothing is imported until each is corrected or its row left out.`
      : '',
  ]
  return errors.length > 0 ? states.filter(Boolean).join(' ') : reason
}

function verbOf(target: Place['target'], runs: number, tag: string | undefined): string {
  if (target === 'replace') return `Replace the points of ${tag ?? 'the run'}`
  const count = runs === 1 ? 'one run' : `${runs} runs`
  return target === 'newSkid' ? `Open as a new skid of ${count}` : `Add ${count}`
}

function finish(
  made: { document: SkidDocument; runs: readonly { id: string; tag: string }[] },
  target: Place['target'],
  struck: number,
  source: Source,
): void {
  const { say, select, look } = sessionStore.getState()
  const from = source.name ? `“${source.name}”` : 'the pasted table'
  const left = struck > 0 ? ` ${struck} ${struck === 1 ? 'row was' : 'rows were'} left out by choice.` : ''
  const tags = made.runs.map(r => r.tag).join(', ')
  showDialog(null)
  if (target === 'newSkid') {
    unlessLost(() => {
      openWithoutFile(made.document)
      lookAtAll()
      say(`New skid from ${from}.${left}`)
    })
    return
  }
  const label = target === 'replace' ? `Replace the points of ${tags}` : `Import ${tags}`
  documentStore.getState().apply(label, () => made.document)
  select({ kind: 'run', run: made.runs[0]?.id ?? '' })
  look({ kind: 'fitSelection' })
  say(`${target === 'replace' ? `${tags} has new points` : `${tags} made`}, from ${from}.${left}`)
}
