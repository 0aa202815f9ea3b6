import type { Finding } from '../../checks/finding.ts'
import { runOf } from '../../document/lookUp.ts'
import type { SkidDocument } from '../../document/types.ts'
import { editRow } from '../../solve/editRows.ts'
import { solveRun } from '../../solve/solveRun.ts'

/** A mend for a finding: done as one step, or known but impossible here, and why. */
export type Fix =
  | { readonly ok: true; readonly label: string; readonly document: SkidDocument }
  | { readonly ok: false; readonly label: string; readonly reason: string }

/** The fix for a finding in this document, or null when none is known for its kind. */
export function knownFix(document: SkidDocument, finding: Finding): Fix | null {
  const { where, measured, limit, unit } = finding
  if (where.kind === 'straight' && unit === 'mm' && measured !== null && limit !== null && measured < limit)
    return lengthen(document, finding, where.run ?? '', where.index ?? 0, limit)
  return null
}

/** Under this a straight counts as long enough: the rounding of moving it there and solving again. mm. */
const LONG_ENOUGH_MM = 1e-7

function lengthen(
  document: SkidDocument,
  finding: Finding,
  runId: string,
  straight: number,
  to: number,
): Fix {
  const label = `Lengthen straight ${straight + 1}`
  const run = runOf(document, runId)
  const before = run && solveRun(document, run).route
  if (!before) return { ok: false, label, reason: 'The route must be solvable first.' }
  let reason = ''
  for (const keep of ['A', 'B'] as const) {
    const result = editRow(document, runId, { kind: 'straight', index: straight, to }, keep)
    if (!result.ok) {
      reason ||= result.reason
      continue
    }
    const after = solveRun(result.document, runOf(result.document, runId)!).route
    const long = after && (after.straights[straight] ?? 0) >= to - LONG_ENOUGH_MM
    const others = after?.straights.every(
      (s, i) => i === straight || s >= Math.min(0, before.straights[i] ?? 0) - LONG_ENOUGH_MM,
    )
    if (long && others) return { ok: true, label, document: result.document }
    reason ||=
      'With both ends held in their ports, making this straight longer spoils another one. Move a point.'
  }
  return { ok: false, label, reason: reason || finding.message }
}
