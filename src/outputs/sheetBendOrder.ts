import { housingNotChecked } from '../bender/benchFindings.ts'
import type { CheckedBendOrder } from '../bender/checkBendOrder.ts'
import { orderFrom, sameOrder, sameSequence } from '../bender/layOut.ts'
import { benderOf, runOf, toolingOf } from '../document/lookUp.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { isOfBender } from '../findings/rules.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'

export interface SheetBendOrder {
  readonly order: readonly OrderedBend[]
  /** The findings given, those about the bender being of this very order; null when the checks were not run. */
  readonly findings: readonly Finding[] | null
}

const ofItsBender = (solved: SolvedRun, findings: readonly Finding[]) =>
  findings.filter(f => f.where.run === solved.runId && isOfBender(f.rule))

/** The order of a run's bends that the checks looked at last: from end A, or another where that one does not clear. */
export function checkedOrder(solved: SolvedRun, findings: readonly Finding[]): readonly OrderedBend[] {
  const bends = solved.route?.bends.length ?? 0
  return ofItsBender(solved, findings).find(f => f.order?.length === bends)?.order ?? orderFrom('A', bends)
}

/**
 * The order of bends that a run's sheet and strip go by. Without being asked for another, it is the one that the
 * checks looked at: from end A, or the order that clears the bender where that one does not. Another one is not
 * checked, and says so; the one that the checks know to hit the bender is an error, and no note any more.
 *
 * @param asked the end that leads through all bends, or an order; or one with what a check says of that very order.
 */
export function sheetBendOrder(
  document: SkidDocument,
  solved: SolvedRun,
  findings: readonly Finding[] | null,
  asked?: Lead | readonly OrderedBend[] | CheckedBendOrder,
): SheetBendOrder {
  const bends = solved.route?.bends.length ?? 0
  const fromA = orderFrom('A', bends)
  const ofBender = ofItsBender(solved, findings ?? [])
  const others = findings?.filter(f => !ofBender.includes(f)) ?? null
  if (asked !== undefined && typeof asked === 'object' && 'findings' in asked)
    return { order: asked.order, findings: others && [...others, ...asked.findings] }
  const checked = checkedOrder(solved, findings ?? [])
  const led = typeof asked === 'string' ? orderFrom(asked, bends) : asked
  // An end that leads says nothing of half turns: they go as they were checked.
  const asChecked = led === undefined || (typeof asked === 'string' && sameSequence(led, checked))
  const order = asChecked ? checked : led
  if (others === null || sameOrder(order, checked)) return { order, findings }
  const run = runOf(document, solved.runId)
  const bender = run && benderOf(document, run)
  // Without a bender or its tooling nothing is laid out; other checks say so.
  if (!bender || !toolingOf(bender, run)) return { order, findings }
  const known = ofBender.find(f => f.rule === 'housingOrder')
  const said =
    known && sameSequence(order, fromA)
      ? { ...known, severity: 'error' as const }
      : housingNotChecked(solved, 'another bending order was checked, not this one; Bend can check it')
  return { order, findings: [...others, said] }
}
