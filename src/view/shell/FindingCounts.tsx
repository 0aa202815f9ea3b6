import { PendingChecks } from '../PendingChecks.tsx'
import { SeverityMark } from '../panels/SeverityMark.tsx'
import { countsInWords, worstOf } from '../panels/severity.ts'
import { useFindings } from '../useFindings.ts'
import { useShown } from '../useStore.ts'

/** How many findings are open, and how many were accepted; says so when nothing was there to check. */
export function FindingCounts() {
  const {
    decisions: { decided },
    complete,
    pending,
    document,
  } = useFindings()
  // The lists may lag a moment behind the picture: machines that read the page are told when they do not.
  const upToDate = useShown() === document && complete
  const open = decided.filter(d => d.state !== 'accepted').map(d => d.finding)
  const accepted = decided.length - open.length
  const worst = worstOf(open)
  if (document.runs.length === 0)
    return (
      <span className="counts" data-up-to-date={upToDate}>
        <SeverityMark of="notChecked" /> nothing to check
      </span>
    )
  return (
    <span className="counts" data-up-to-date={upToDate}>
      <SeverityMark of={worst ?? (complete ? 'ok' : 'notChecked')} />{' '}
      {countsInWords(open) || (complete ? 'no open findings' : 'no findings so far')}
      {accepted > 0 && `, ${accepted} accepted`}
      {!complete && (
        <>
          {', '}
          <PendingChecks pending={pending} />
        </>
      )}
    </span>
  )
}
