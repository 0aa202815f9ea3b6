import { compareVersions, isSame, type VersionsComparison } from '../checks/compareVersions.ts'
import { compareText, namesOfBoth } from '../outputs/compareText.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { BadInput } from './badInput.ts'
import { checkedVersion, earlierVersion } from './checkedVersion.ts'
import { type Call, command } from './command.ts'
import { JSON_OPTION, MODELS_OPTION, OF_A_TABLE } from './options.ts'

const OPTIONS = { ...JSON_OPTION, ...MODELS_OPTION, ...OF_A_TABLE } as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { other, values, io } = call
  if (other === undefined)
    throw new BadInput('compare: found one file; wanted two, as in "dogleg compare FILE EARLIER"')
  const before = await earlierVersion(call, other)
  const after = await checkedVersion(call)
  const found = compareVersions(before.document, after.document, {
    before: before.findings,
    after: after.findings,
  })
  const name = namesOfBoth(before.document, after.document)
  io.out(values.json ? jsonText(asData(found)) : compareText(found, name))
  return isSame(found) ? 0 : 1
}

const asData = ({ runs, moves, others, findings }: VersionsComparison) => ({
  runs: {
    added: runs.added.map(r => r.tag),
    removed: runs.removed.map(r => r.tag),
    changed: runs.changed.map(({ runId, tag, changes }) => ({
      tag,
      largestMove: moves.get(runId) ?? null,
      changes,
    })),
    same: runs.same,
  },
  parts: others.parts,
  document: others.settings,
  findings,
})

/** `compare FILE EARLIER`: what FILE has changed. Exit 0 when nothing is different, 1 when something is. */
export const compare = command({
  name: 'compare',
  help: `  dogleg compare FILE EARLIER [--json]
                               what changed from EARLIER to FILE: runs, other parts, findings; exit 0 if nothing, else 1
`,
  options: OPTIONS,
  twoFiles: true,
  run,
})
