import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import type { Model, SkidDocument } from '../../document/types.ts'
import { findingFigure } from '../../findings/findingFigure.ts'
import { findingGroups } from '../../outputs/compareText.ts'
import { solveRun } from '../../solve/solveRun.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import { ChangeFigures } from './ChangeFigures.tsx'
import { ChangeMark } from './ChangeMark.tsx'
import type { ChangeRow, ChangeWord } from './changeRows.ts'
import { giveEarlierFile } from './giveEarlierFile.ts'
import { type Changes, useChanges } from './useChanges.ts'

/** The chosen change: every figure that moved, and what that does to the run's findings. */
export function ChangeDetail() {
  const changes = useChanges()
  const row = changes?.chosen
  if (!changes || !row)
    return (
      <div className="decision-none">
        <h2>Change</h2>
        <p className="quiet">
          {changes
            ? 'Choose a change in the list. Step through them with the arrow keys; the view follows.'
            : 'Nothing is compared yet.'}
        </p>
      </div>
    )
  return (
    <div className="decision change-detail">
      <h2>{row.title}</h2>
      <ChangeMark word={row.word} />
      {row.about.kind === 'run' ? (
        <RunChange row={row} changes={changes} />
      ) : row.about.kind === 'finding' ? (
        <FindingChange row={row} changes={changes} />
      ) : row.changes.length > 0 ? (
        <ChangeFigures changes={row.changes} />
      ) : (
        <p>
          {row.word === 'added'
            ? `The earlier version has no such ${row.more}.`
            : `This version has no such ${row.more} any more.`}
        </p>
      )}
    </div>
  )
}

function RunChange({ row, changes }: { readonly row: ChangeRow; readonly changes: Changes }) {
  const unit = useSession(s => s.unit)
  const { about, findings } = row
  if (about.kind !== 'run') return null
  const groups = findings ? findingGroups({ ...changes.found, findings }, changes.name, unit) : []
  return (
    <>
      {row.word === 'changed' ? (
        <>
          {about.move && <p>{row.more}</p>}
          <ChangeFigures changes={row.changes} />
        </>
      ) : (
        <RunFacts
          document={row.word === 'removed' ? changes.earlier.document : changes.document}
          run={about.run}
          unit={unit}
        />
      )}
      <section aria-label="Its findings">
        <h3>Its findings</h3>
        {!findings && <p className="quiet">{changes.pending}</p>}
        {findings && groups.length === 0 && <p className="quiet">{NO_FINDINGS[row.word]}</p>}
        {groups.map(([title, list]) => (
          <div key={title}>
            <p>
              {list.length} {title}
            </p>
            <ul>
              {list.map(text => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </div>
        ))}
      </section>
    </>
  )
}

const NO_FINDINGS: Partial<Record<ChangeWord, string>> = {
  changed: 'None changed.',
  added: 'It has none.',
  removed: 'None disappeared with it.',
}

/** Of a run that only one version has. */
function RunFacts({ document, run: id, unit }: { document: SkidDocument; run: string; unit: LengthUnit }) {
  const run = document.runs.find(r => r.id === id)
  if (!run) return null
  const { route, problem, cutLength } = solveRun(document, run)
  const length = (mm: number) => formatLength(mm, unit, { withUnit: true })
  const facts: (readonly [string, string])[] = [
    ['Service', run.service || 'not stated'],
    ['Tube', `${tubeSizeText(run.tube, unit)}, ${run.tube.material}`],
    ['CLR', length(run.clr)],
    ['Bends', route ? String(route.bends.length) : 'none'],
    [
      'Cut length',
      cutLength === null ? (problem ? inUnit(problem.sentence, unit) : 'none') : length(cutLength),
    ],
  ]
  return (
    <dl>
      {facts.map(([what, text]) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  )
}

function FindingChange({ row, changes }: { readonly row: ChangeRow; readonly changes: Changes }) {
  const unit = useSession(s => s.unit)
  if (row.about.kind !== 'finding') return null
  const { finding } = row.about
  const { measured, limit, where, sentence } = finding
  const { findings } = changes.found
  const moved = findings && [...findings.worse, ...findings.better].find(m => m.finding.id === finding.id)
  const lacking =
    row.version === 'earlier' && row.word === 'not checked'
      ? changes.earlier.document.models.find(m => m.id === where.other)
      : undefined
  return (
    <>
      <p>
        <SentenceText sentence={sentence} />
      </p>
      <dl>
        <div>
          <dt>Where</dt>
          <dd>{row.more}</dd>
        </div>
        {moved && (
          <div>
            <dt>Before</dt>
            <dd>{findingFigure(moved.before, finding, unit)}</dd>
          </div>
        )}
        {measured !== null && (
          <div>
            <dt>{row.version === 'earlier' ? 'Before' : 'Now'}</dt>
            <dd>{findingFigure(measured, finding, unit)}</dd>
          </div>
        )}
        {limit !== null && (
          <div>
            <dt>Limit</dt>
            <dd>{findingFigure(limit, finding, unit)}</dd>
          </div>
        )}
      </dl>
      {lacking && <LackingFile model={lacking} />}
    </>
  )
}

const LackingFile = ({ model }: { readonly model: Model }) => (
  <p>
    <button type="button" onClick={() => void giveEarlierFile(model)}>
      Locate {model.fileName}…
    </button>
  </p>
)
