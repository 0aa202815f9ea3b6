import { say } from '../document/sentence.ts'
import { finding, type RunCheck } from './runContext.ts'

/** Has the run a route at all? Its problem is the finding, and everything that could not be asked is said. */
export const routeSolves: RunCheck = ({ run, solved }) => {
  const { problem } = solved
  if (!problem) return []
  const ids = ['A', ...run.vertices.map(v => v.id), 'B']
  const parts =
    problem.place === 'run'
      ? []
      : problem.place === 'point'
        ? [ids[problem.at] ?? '']
        : [ids[problem.at] ?? '', ids[problem.at + 1] ?? '']
  const where =
    problem.place === 'run'
      ? ({ kind: 'run', index: null } as const)
      : ({ kind: problem.place === 'point' ? 'vertex' : 'leg', index: problem.at } as const)
  return [
    finding(run, { rule: problem.code, severity: 'error', parts, where, sentence: problem.sentence }),
    finding(run, {
      rule: 'routeChecks',
      severity: 'notChecked',
      parts: [],
      where: { kind: 'run', index: null },
      sentence: say`not checked, because the route has no solution: straights, bends, ports and stop of this run`,
    }),
  ]
}
