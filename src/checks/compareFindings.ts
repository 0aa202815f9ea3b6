import { WORSE_BY } from './decisions.ts'
import type { Finding } from './finding.ts'

/** A finding that both versions have, with a figure that moved. */
export interface MovedFinding {
  readonly finding: Finding
  readonly before: number
  readonly after: number
}
export interface FindingsComparison {
  readonly appeared: readonly Finding[]
  readonly gone: readonly Finding[]
  /** Further from the limit by more than 0.1 mm or degrees. */
  readonly worse: readonly MovedFinding[]
  readonly better: readonly MovedFinding[]
  readonly same: number
  /** Of the later version: their check was not run in the earlier one, so they may have been there. */
  readonly notKnownBefore: readonly Finding[]
  /** Of the earlier version: their check was not run in the later one, so they may still be there. */
  readonly notKnownNow: readonly Finding[]
  /** What was not checked, and so is not compared: of the earlier version, of the later one, of both (as it is said now). */
  readonly notChecked: {
    readonly before: readonly Finding[]
    readonly now: readonly Finding[]
    readonly both: readonly Finding[]
  }
}

/** What became of the errors and warnings from one version to the next, by their identity. */
export function compareFindings(before: readonly Finding[], after: readonly Finding[]): FindingsComparison {
  const real = (list: readonly Finding[]) =>
    list.filter(f => f.severity === 'error' || f.severity === 'warning')
  const was = new Map(real(before).map(f => [f.id, f]))
  const is = new Map(real(after).map(f => [f.id, f]))
  const [uncheckedBefore, uncheckedNow] = [unchecked(before), unchecked(after)]
  const fresh = [...is.values()].filter(f => !was.has(f.id))
  const left = [...was.values()].filter(f => !is.has(f.id))
  const worse: MovedFinding[] = []
  const better: MovedFinding[] = []
  let same = 0
  for (const finding of is.values()) {
    const earlier = was.get(finding.id)
    if (!earlier) continue
    const moved = movement(earlier, finding)
    if (moved === null || Math.abs(moved) <= WORSE_BY) same++
    else (moved > 0 ? worse : better).push({ finding, before: earlier.measured!, after: finding.measured! })
  }
  return {
    appeared: fresh.filter(f => !uncheckedBefore(f)),
    gone: left.filter(f => !uncheckedNow(f)),
    worse,
    better,
    same,
    notKnownBefore: fresh.filter(uncheckedBefore),
    notKnownNow: left.filter(uncheckedNow),
    notChecked: notCheckedIn(before, after),
  }
}

function notCheckedIn(before: readonly Finding[], after: readonly Finding[]) {
  const left = (list: readonly Finding[]) => list.filter(f => f.severity === 'notChecked')
  const [was, is] = [new Set(left(before).map(f => f.id)), new Set(left(after).map(f => f.id))]
  return {
    before: left(before).filter(f => !is.has(f.id)),
    now: left(after).filter(f => !was.has(f.id)),
    both: left(after).filter(f => was.has(f.id)),
  }
}

/** How much worse the figure is, > 0 when it is; null when there is nothing to compare. */
function movement(before: Finding, after: Finding): number | null {
  if (before.measured === null || after.measured === null) return null
  const limit = after.limit ?? before.limit
  if (limit === null) return null
  // Too little (a straight, a gap) gets worse downwards, too much (an angle past the stop) upwards.
  return (after.measured - before.measured) * (after.measured > limit ? 1 : -1)
}

/** What is found by measuring, and by opening a model's file. */
const OF_CLEARANCE = new Set(['clash', 'tooClose', 'selfClash', 'modelPartGone'])

/** Which rule says that a finding's check was not run. */
function guardOf(rule: string): readonly string[] {
  if (OF_CLEARANCE.has(rule)) return ['clearanceNotChecked']
  if (rule.startsWith('housing')) return ['housingNotChecked', 'benderChecks', 'routeChecks']
  return ['benderChecks', 'routeChecks']
}

/** Whether the check of a finding was left out in a version: of the whole skid, its run, or its other party. */
function unchecked(findings: readonly Finding[]): (finding: Finding) => boolean {
  const out = findings.filter(f => f.severity === 'notChecked')
  return ({ rule, where }) =>
    out.some(u => {
      if (!guardOf(rule).includes(u.rule)) return false
      const { run, other } = u.where
      if (run === null && other === undefined) return true
      const about = run ?? other
      // A model is not checked as a whole; its parts are `model/key`.
      return (
        about === where.run ||
        about === where.other ||
        (about !== undefined && (where.other?.startsWith(`${about}/`) ?? false))
      )
    })
}

/** What of it concerns one run: as the run that is checked, or as what another comes near to. */
export function findingsAbout(found: FindingsComparison, runId: string): FindingsComparison {
  const isOf = ({ where }: Finding) => where.run === runId || where.other === runId
  const plain = (list: readonly Finding[]) => list.filter(isOf)
  const moved = (list: readonly MovedFinding[]) => list.filter(m => isOf(m.finding))
  return {
    appeared: plain(found.appeared),
    gone: plain(found.gone),
    worse: moved(found.worse),
    better: moved(found.better),
    same: found.same,
    notKnownBefore: plain(found.notKnownBefore),
    notKnownNow: plain(found.notKnownNow),
    notChecked: {
      before: plain(found.notChecked.before),
      now: plain(found.notChecked.now),
      both: plain(found.notChecked.both),
    },
  }
}
