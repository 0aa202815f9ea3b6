import { benchReport, knownBenders, type ReportedRun } from '../bender/benchCommand.ts'
import { findingsOffBender } from '../checks/allFindings.ts'
import { worstFirst } from '../checks/runChecks.ts'
import { exampleFigures, exampleWords } from '../document/exampleFigures.ts'
import { KNOWN_BENDERS } from '../document/knownBenders.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleText } from '../document/visibleText.ts'
import type { Finding } from '../findings/finding.ts'
import { type BenchedRun, benchText, errorsOf } from '../outputs/benchText.ts'
import { jsonText } from '../outputs/jsonText.ts'
import { decidedOf, releaseState } from '../outputs/releaseState.ts'
import { reportedFinding } from '../outputs/solveReport.ts'
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
  refuseIdle(values)
  const margin = lengthOrNothing(values, 'margin')
  const lead = leadOption(values)
  const document = asBentOn(await printedDocument(call, { benderOfDocument: true }), values.bender)
  const solved = solveDocument(document)
  const made = benchReport(document, solved, {
    benders: KNOWN_BENDERS.map(k => k.bender),
    lead: lead ?? 'A',
    ...(values.run === undefined ? {} : { run: values.json ? values.run : visibleText(values.run) }),
    ...(values.order === undefined ? {} : { order: values.json ? values.order : visibleText(values.order) }),
    ...(margin === undefined ? {} : { margin }),
  })
  for (const run of made.runs) if ('problem' in run) io.warn(`${run.tag}: ${run.problem}`)
  const offBender = findingsOffBender(document, solved, await modelsOf(document, call))
  const runs = made.runs.map(run => ('problem' in run ? run : benched(document, solved, offBender, run)))
  const benchedOf = new Map(runs.flatMap(r => ('problem' in r ? [] : [[r.run, r] as const])))
  if (values.json) io.out(jsonText({ runs: runs.map(r => ('problem' in r ? r : asData(r))) }))
  else io.out(benchText(made, run => benchedOf.get(run)!))
  const stopped = runs.some(
    r =>
      'problem' in r ||
      r.run.blocked !== null ||
      r.run.steps.some(s => s.hold !== null) ||
      errorsOf(r.run, r.decided).length > 0 ||
      r.release.held,
  )
  return stopped ? 1 : 0
}

/** @throws BadInput for an option that would do nothing beside the others that were given. */
function refuseIdle({ order, lead, run, margin }: Call<typeof OPTIONS>['values']): void {
  if (order !== undefined && lead !== undefined)
    throw new BadInput('--order: found --lead too; wanted one of the two')
  if (order !== undefined && run === undefined)
    throw new BadInput('--order: found no --run; wanted the run whose order it is')
  if (margin !== undefined && lead !== 'best') {
    const found = order !== undefined ? '--order' : lead === undefined ? 'no --lead' : `--lead ${lead}`
    throw new BadInput(`--margin: found ${found}, where no order is searched for; wanted --lead best with it`)
  }
}

/**
 * The document with its runs on the bender that was asked for, so that every check is of that bender.
 * @throws BadInput when there is no such bender.
 */
function asBentOn(document: SkidDocument, id: string | undefined): SkidDocument {
  if (id === undefined) return document
  const known = knownBenders(document, { benders: KNOWN_BENDERS.map(k => k.bender) })
  const bender = known.find(b => b.id === id)
  if (bender === undefined)
    throw new BadInput(`--bender: found "${id}"; wanted one of ${known.map(b => b.id).join(', ')}`)
  const benders = document.benders.includes(bender) ? document.benders : [...document.benders, bender]
  return { ...document, benders, runs: document.runs.map(r => ({ ...r, bender: id })) }
}

/** A listed run with everything that the checks say of it, the bender's check being that of the very order listed. */
interface Listed extends BenchedRun {
  readonly run: ReportedRun
}

function benched(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  offBender: readonly Finding[],
  run: ReportedRun,
): Listed {
  const own = solved.find(s => s.tag === run.tag)!
  const decided = decidedOf(document, own.runId, worstFirst([...offBender, ...run.findings]))!
  const cautions = exampleWords(exampleFigures(document, document.runs.find(r => r.id === own.runId)!))
  const release = releaseState(own, decided)
  const held = run.steps.filter(s => s.hold !== null).map(s => s.bend)
  if (held.length === 0 || release.held) return { run, decided, cautions, release }
  const detail = `bend ${held.map(bend => bend + 1).join(', ')} cannot be set up in this order`
  return { run, decided, cautions, release: { text: 'NOT RELEASED', detail, good: false, held: true } }
}

const asData = ({ run, decided, release: { text, detail } }: Listed) => ({
  ...run,
  findings: decided.map(reportedFinding),
  errors: errorsOf(run, decided),
  state: { text, detail },
})

/** `bench FILE`: every step on the bender. Exit 1 when a run cannot be made so. */
export const bench = command({
  name: 'bench',
  help: `  dogleg bench FILE [--run TAG] [--lead A|B|best] [--margin MM] [--bender ID] [--json]
  dogleg bench FILE --run TAG --order "4A 1A 3B 2A" …
                               marks, rotations, dial readings and clearance of every step on the bender
                               --order: bends in bending order, each with the end that leads; CW or CCW after a bend
                               sets the direction of its half turn (otherwise the one that clears by more); refused
                               where the tube makes no half turn in the bender
                               --lead best: of the orders that clear the bender by the margin (10 mm or the bender's
                               own), the one with least handling, with the clearest beside it; --margin only with it
                               What check finds of the run is listed too, the bender's findings for this order: errors
                               before the steps. Exit 1 when one is open or a run cannot be set up. JSON: findings,
                               errors (sentences), state
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
