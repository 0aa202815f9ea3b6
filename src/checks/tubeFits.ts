import { SAME_FIGURE_MM } from '../document/lookUp.ts'
import { mm, say } from '../document/sentence.ts'
import type { Fitting } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { finding, type RunCheck } from './runContext.ts'

/** Do the ports take this OD, has the tube a bore, and does its outside clear the bend's own axis? */
export const tubeFits: RunCheck = ({ run, fittingA, fittingB }) => {
  const { od, wall } = run.tube
  const port = (end: 'A' | 'B', fitting: Fitting | null): Finding[] =>
    !fitting || fitting.tubeOd === null || Math.abs(fitting.tubeOd - od) <= SAME_FIGURE_MM
      ? []
      : [
          finding(run, {
            rule: 'portOd',
            severity: 'error',
            parts: [end, fitting.id],
            where: { kind: end === 'A' ? 'endA' : 'endB', index: null },
            measured: od,
            limit: fitting.tubeOd,
            unit: 'mm',
            sentence: say`the tube is ${mm(od, fitting.tubeOd)} OD; ${fitting.name} at end ${end} takes ${mm(fitting.tubeOd, od)}`,
          }),
        ]
  const whole = { severity: 'error', parts: [], where: { kind: 'run', index: null }, unit: 'mm' } as const
  const findings = [...port('A', fittingA), ...port('B', fittingB)]
  if (2 * wall >= od)
    findings.push(
      finding(run, {
        ...whole,
        rule: 'tubeBore',
        measured: wall,
        limit: od / 2,
        sentence: say`a wall of ${mm(wall, od / 2)} leaves no bore in a tube of ${mm(od)} OD; it must be below ${mm(od / 2, wall)}`,
      }),
    )
  if (run.clr <= od / 2)
    findings.push(
      finding(run, {
        ...whole,
        rule: 'clrTooSmall',
        measured: run.clr,
        limit: od / 2,
        sentence: say`a CLR of ${mm(run.clr, od / 2)} folds a tube of ${mm(od)} OD into itself; it must be above ${mm(od / 2, run.clr)}`,
      }),
    )
  return findings
}
