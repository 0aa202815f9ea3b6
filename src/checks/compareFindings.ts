import type { Finding } from '../findings/finding.ts'
import { RULES, type Rule } from '../findings/rules.ts'
import { WORSE_BY } from './decisions.ts'

/** A finding that both versions have and that is worse or better, by its figure, its limit or its severity. */
export interface MovedFinding {
  readonly finding: Finding
  readonly before: number | null
  readonly after: number | null
  /** What was asked for and what is; left out when it is the same. */
  readonly limits?: { readonly before: number | null; readonly after: number | null }
}
export interface FindingsComparison {
  readonly appeared: readonly Finding[]
  readonly gone: readonly Finding[]
  /** Further beyond its limit by more than 0.1 mm or degrees, or an error by now. */
  readonly worse: readonly MovedFinding[]
  readonly better: readonly MovedFinding[]
  /** Neither, but with another limit, or said otherwise where it has no figure. */
  readonly changed: readonly MovedFinding[]
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
  const changed: MovedFinding[] = []
  let same = 0
  for (const finding of is.values()) {
    const earlier = was.get(finding.id)
    if (!earlier) continue
    const by = movement(earlier, finding)
    const list = by > 0 ? worse : by < 0 ? better : isOther(earlier, finding) ? changed : null
    if (!list) same++
    else
      list.push({
        ...{ finding, before: earlier.measured, after: finding.measured },
        ...(limitsMoved(earlier, finding) && { limits: { before: earlier.limit, after: finding.limit } }),
      })
  }
  return {
    appeared: fresh.filter(f => !uncheckedBefore(f)),
    gone: left.filter(f => !uncheckedNow(f)),
    worse,
    better,
    changed,
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

/** How much worse it is than it was, > 0 when it is: by severity, else by figure and limit; 0 when by neither. */
function movement(before: Finding, after: Finding): number {
  // A gap too small that has become a clash is short of another limit: its lacks are not to be compared.
  const graver = Number(after.severity === 'error') - Number(before.severity === 'error')
  if (graver !== 0) return graver * Number.POSITIVE_INFINITY
  const by = furtherBeyond(before, after)
  return Math.abs(by) > WORSE_BY ? by : 0
}

/** By how much more the figure is beyond its own limit, in its unit; 0 where there is nothing to compare. */
function furtherBeyond(before: Finding, after: Finding): number {
  const [was, is] = [before.limit ?? after.limit, after.limit ?? before.limit]
  if (before.measured === null || after.measured === null || was === null || is === null) return 0
  // Too little (a straight, a gap) gets worse downwards, too much (an angle past the stop) upwards.
  const side = Math.sign(after.measured - is) || Math.sign(before.measured - was) || -1
  return (after.measured - is) * side - (before.measured - was) * side
}

/** Neither worse nor better, and yet not what was found: another limit, or other words where there is no figure. */
function isOther(before: Finding, after: Finding): boolean {
  if (limitsMoved(before, after)) return true
  return (before.measured === null || after.measured === null) && before.message !== after.message
}

const limitsMoved = (before: Finding, after: Finding): boolean =>
  before.limit !== after.limit &&
  !(before.limit !== null && after.limit !== null && Math.abs(before.limit - after.limit) <= SAME)

/** Limits nearer than this are one, mm or degrees. */
const SAME = 1e-6

/** Which rules say that a finding's check was not run. */
const GUARDS: Readonly<Record<(typeof RULES)[Rule]['check'], readonly Rule[]>> = {
  clearance: ['clearanceNotChecked'],
  bender: ['housingNotChecked', 'benderChecks', 'routeChecks'],
  model: ['benderChecks', 'routeChecks'],
  run: ['benderChecks', 'routeChecks'],
}

/** Whether the check of a finding was left out in a version: of the whole skid, its run, or its other party. */
function unchecked(findings: readonly Finding[]): (finding: Finding) => boolean {
  const out = findings.filter(f => f.severity === 'notChecked')
  return ({ rule, where }) =>
    out.some(u => {
      if (!GUARDS[RULES[rule].check].includes(u.rule)) return false
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
    changed: moved(found.changed),
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
