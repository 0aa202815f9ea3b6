import { command } from './command.ts'
import { REPORT_OPTIONS, report } from './report.ts'

/** `solve FILE`: every run's programme and what is wrong with it. */
export const solve = command({
  name: 'solve',
  help: `  dogleg solve FILE [--json]   straights, bends, rotations, developed and cut length of every run
`,
  options: REPORT_OPTIONS,
  run: call => report(call, true),
})
