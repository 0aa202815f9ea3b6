import { dieOf, SAME_FIGURE_MM } from '../document/lookUp.ts'
import { joined, mm, say } from '../document/sentence.ts'
import { finding, type RunCheck } from './runContext.ts'

/** Has the bender a die for this tube at this CLR? */
export const toolingFits: RunCheck = ({ run, bender, tooling }) => {
  // A die that is not measured yet is there: what it keeps from being checked is said by benderChosen.
  if (!bender || tooling || dieOf(bender, run)) return []
  const forOd = bender.tooling.filter(t => Math.abs(t.od - run.tube.od) <= SAME_FIGURE_MM)
  const parts = [bender.id]
  const where = { kind: 'run', index: null } as const
  if (forOd.length === 0) {
    const ods = [...new Set(bender.tooling.map(t => t.od))]
    const has = ods.map(od => say`${mm(od, run.tube.od)}`)
    return [
      finding(run, {
        rule: 'odNotInTooling',
        severity: 'error',
        parts,
        where,
        measured: run.tube.od,
        unit: 'mm',
        sentence: say`${bender.name} has no tooling for a tube of ${mm(run.tube.od, ...ods)} OD; it has ${has.length > 0 ? joined(has, ', ') : 'none at all'}`,
      }),
    ]
  }
  const nearest = forOd.reduce((a, b) => (Math.abs(a.clr - run.clr) <= Math.abs(b.clr - run.clr) ? a : b))
  return [
    finding(run, {
      rule: 'clrNotInTooling',
      severity: 'error',
      parts,
      where,
      measured: run.clr,
      limit: nearest.clr,
      unit: 'mm',
      sentence: say`${bender.name} has no die of CLR ${mm(run.clr, nearest.clr)} for ${mm(run.tube.od)} OD; the nearest it has is ${mm(nearest.clr, run.clr)}`,
    }),
  ]
}
