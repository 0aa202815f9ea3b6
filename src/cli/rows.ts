import { writePoints } from '../document/writeTable.ts'
import { PLAIN_FRAME, rowsToPoints } from '../solve/rows.ts'
import { rowsFromLegs } from '../solve/rowsFromLegs.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { textOf } from './documentFrom.ts'
import { JSON_OPTION, OF_A_TABLE, ROW_OPTIONS, TABLE_OPTIONS } from './options.ts'
import { lengthOption, oneOf } from './optionValue.ts'
import { tableRuns } from './tableRuns.ts'

const { od, wall, clr } = OF_A_TABLE
const OPTIONS = { ...JSON_OPTION, od, wall, clr, ...TABLE_OPTIONS, ...ROW_OPTIONS } as const

async function run({ file, values, io }: Call<typeof OPTIONS>): Promise<number> {
  const clr = lengthOption(values, 'clr')
  const legs = oneOf(values, 'lengths', { straights: false, legs: true }) ?? false
  const runs = tableRuns(file, await textOf(file, io), 'rows', values)
  const [run] = runs
  if (run?.kind !== 'rows' || runs.length > 1)
    throw new BadInput(`${file}: found ${runs.length} runs; wanted one, for points of one run`)
  const points = rowsToPoints(legs ? rowsFromLegs(run.rows, clr) : run.rows, clr, PLAIN_FRAME)
  io.out(values.json ? `${JSON.stringify({ points })}\n` : writePoints(points))
  return 0
}

/** `rows FILE`: bend rows as points. */
export const rows = command({
  name: 'rows',
  help: `  dogleg rows FILE.csv --clr MM
                               points (x,y,z as CSV) from bend rows with the header straight,rotation,angle;
                               end A at the origin, heading +x, the first bend towards +y
`,
  options: OPTIONS,
  run,
})
