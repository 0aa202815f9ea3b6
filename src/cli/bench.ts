import { type BenchOptions, benchReport, knownBenders, type ReportedRun } from '../bench/benchCommand.ts'
import { allFindings } from '../checks/allFindings.ts'
import { decide, isOpen } from '../checks/decisions.ts'
import type { Finding } from '../checks/finding.ts'
import { exampleFigures, exampleWords } from '../document/exampleFigures.ts'
import { KNOWN_BENDERS } from '../document/knownBenders.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleText } from '../document/visibleText.ts'
import { benchText } from '../outputs/benchText.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { decidedOf, type ReleaseState, releaseState } from '../outputs/releaseState.ts'
import { solveDocument } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BadInput } from './badInput.ts'
import { type Call, command } from './command.ts'
import { printedDocument } from './documentFrom.ts'
import { modelsOf } from './modelsOf.ts'
import { JSON_OPTION, LEAD_OPTION, MODELS_OPTION, OF_A_TABLE, RUN_OPTION } from './options.ts'
import { leadOption, lengthOrNothing } from './optionValue.ts'

const OPTIONS = {
  ...JSON_OPTION,
  ...OF_A_TABLE,
  ...MODELS_OPTION,
  ...RUN_OPTION,
  ...LEAD_OPTION,
  order: { takes: 'BENDS' },
  margin: { takes: 'MM' },
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values, io } = call
  if (values.order !== undefined && values.lead !== undefined)
    throw new BadInput('--order: found --lead too; wanted one of the two')
  if (values.order !== undefined && values.run === undefined)
    throw new BadInput('--order: found no --run; wanted the run whose order it is')
  const margin = lengthOrNothing(values, 'margin')
  const document = await printedDocument(call, { benderOfDocument: true })
  const options: BenchOptions = {
    benders: KNOWN_BENDERS.map(k => k.bender),
    lead: leadOption(values) ?? 'A',
    ...(values.run === undefined ? {} : { run: values.json ? values.run : visibleText(values.run) }),
    ...(values.order === undefined ? {} : { order: values.json ? values.order : visibleText(values.order) }),
    ...(values.bender === undefined ? {} : { bender: values.bender }),
    ...(margin === undefined ? {} : { margin }),
  }
  const known = knownBenders(document, options).map(b => b.id)
  if (values.bender !== undefined && !known.includes(values.bender))
    throw new BadInput(`--bender: found "${values.bender}"; wanted one of ${known.join(', ')}`)
  const solved = solveDocument(document)
  const made = benchReport(document, solved, options)
  for (const run of made.runs) if ('problem' in run) io.warn(`${run.tag}: ${run.problem}`)
  if (values.json) io.out(jsonText(made))
  else {
    const findings = allFindings(document, solved, await modelsOf(document, call))
    io.out(
      benchText(
        made,
        run => benchedState(document, solved, findings, run),
        ({ tag }) => examplesOf(document, options, tag),
      ),
    )
  }
  const stopped = made.runs.some(
    run =>
      'problem' in run ||
      run.blocked !== null ||
      run.errors.length > 0 ||
      run.steps.some(s => s.hold !== null) ||
      decide(run.findings, document.acceptances).decided.some(isOpen),
  )
  return stopped ? 1 : 0
}

/** The release state of a run in the very order that is listed: what its own check of the bender says goes for it. */
function benchedState(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  findings: readonly Finding[],
  run: ReportedRun,
): ReleaseState {
  const own = solved.find(s => s.tag === run.tag)!
  const others = findings.filter(f => !(f.where.run === own.runId && f.rule.startsWith('housing')))
  const state = releaseState(own, decidedOf(document, own.runId, [...others, ...run.findings]))
  const held = run.steps.filter(s => s.hold !== null).map(s => s.bend)
  if (held.length === 0 || state.held) return state
  const detail = `bend ${held.map(bend => bend + 1).join(', ')} cannot be set up in this order`
  return { text: 'NOT RELEASED', detail, good: false, held: true }
}

/** What of the figures of a run on the bender asked for came with the program. */
function examplesOf(document: SkidDocument, { benders = [], bender }: BenchOptions, tag: string): string[] {
  const run = document.runs.find(r => r.tag === tag)
  if (!run) return []
  const all = { ...document, benders: [...document.benders, ...benders] }
  return exampleWords(exampleFigures(all, { ...run, bender: bender ?? run.bender }))
}

/** `bench FILE`: every step on the bender. Exit 1 when a run cannot be made so. */
export const bench = command({
  name: 'bench',
  help: `  dogleg bench FILE [--run TAG] [--lead A|B|best] [--margin MM] [--bender ID] [--json]
  dogleg bench FILE --run TAG --order "4A 1A 3B 2A" …
                               marks, rotations, dial readings and clearance of every step on the bender
                               --order: bends in bending order, each with the end that leads; CW or CCW after a bend
                               sets the direction of its half turn (otherwise the one that clears by more)
                               --lead best: of the orders that clear the bender by the margin (10 mm or the bender's
                               own), the one with least handling, with the clearest beside it
                               Each mark is given on the straight stock, with its end, and on the part at that step:
                               from an end, or from the back of a made bend. The back: up to 90°, where a straightedge
                               along the outside of the leg beyond meets the outside of the straight; over 90°, the
                               outermost point of the bend. JSON: markEnd, onPart, turnedEndForEnd, and legs just
                               before the bend: clock, degrees clockwise from straight up seen from the tail (null
                               along the axis), and ahead, true beyond the die
`,
  options: OPTIONS,
  run,
})
