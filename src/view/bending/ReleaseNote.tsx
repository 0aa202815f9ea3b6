import { SeverityMark } from '../panels/SeverityMark.tsx'
import { SentenceText } from '../SentenceText.tsx'
import type { Progress } from './progress.ts'
import type { Release } from './release.ts'

/** Findings listed before the rest is only counted: more than this hides the work. */
const SHOWN = 4

/** Stands wherever a run is begun, cut or finished that is not released: what is open, and who went on. */
export function ReleaseNote({
  release,
  goneOn,
}: {
  readonly release: Release
  readonly goneOn: Progress['goneOn']
}) {
  if (release.state === 'released')
    return goneOn ? (
      <p className="quiet">
        Started unreleased by {goneOn.by}: {goneOn.open}.
      </p>
    ) : null
  const rest = release.because.length - SHOWN
  return (
    <section className={`bending-release ${release.state}`} aria-label="Release">
      <p>
        <b>{release.text}</b>: {release.detail}.{goneOn && ` ${goneOn.by} continues anyway.`}
      </p>
      {release.because.length > 0 && (
        <ul>
          {release.because.slice(0, SHOWN).map(({ finding }) => (
            <li key={finding.id}>
              <SeverityMark of={finding.severity} /> <SentenceText sentence={finding.sentence} />
            </li>
          ))}
          {rest > 0 && <li>and {rest} more, in the list of findings</li>}
        </ul>
      )}
    </section>
  )
}
