import { command } from './command.ts'
import { REPORT_OPTIONS, report } from './report.ts'

/** `check FILE`: what is wrong with each run. */
export const check = command({
  name: 'check',
  help: `  dogleg check FILE [--json]   what is wrong with each run, worst first
`,
  options: REPORT_OPTIONS,
  run: call => report(call, false),
})
