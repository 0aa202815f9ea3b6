import { basename } from 'node:path'
import { BadInput } from './badInput.ts'
import { allFindings } from './checks/allFindings.ts'
import { compareVersions, isSame, type VersionsComparison } from './checks/compareVersions.ts'
import { decide, isOpen } from './checks/decisions.ts'
import type { Finding } from './checks/finding.ts'
import { type Call, documentFrom, paperUnit } from './cliInput.ts'
import { modelsOf } from './cliModels.ts'
import { outOption, paperOption } from './cliOutputs.ts'
import { TITLE_OPTIONS, titleOptions } from './cliTitleBlock.ts'
import type { SkidDocument } from './document/types.ts'
import { compareText, namesOfBoth } from './outputs/compareText.ts'
import { jsonText } from './outputs/jsonText.ts'
import { changesUnits } from './outputs/review/changes.ts'
import { figuresIn } from './outputs/review/names.ts'
import { reviewPdf } from './outputs/review/reviewSheets.ts'
import { reviewCsv } from './outputs/reviewReport.ts'
import { clearances } from './skid/clearance.ts'
import { reachOfFindings } from './skid/clearanceFindings.ts'
import { modelBodies } from './skid/models/modelBodies.ts'
import type { MeshBody } from './skid/parts.ts'
import { solveDocument } from './solve/solveRun.ts'
import type { SolvedRun } from './solve/types.ts'

interface Checked {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  readonly findings: readonly Finding[]
  readonly meshes: readonly MeshBody[]
}

async function checked(call: Call): Promise<Checked> {
  const document = await documentFrom(call.file, call.values, call.io, { unitOfPaper: !call.values.csv })
  const solved = solveDocument(document)
  const models = await modelsOf(document, call)
  const findings = allFindings(document, solved, models)
  return { document, solved, findings, meshes: modelBodies(document, models.trees).bodies }
}

/** An earlier version in another file: always a skid document. */
const earlierOf = ({ values, io }: Call, file: string): Promise<Checked> =>
  checked({ file, values: values.models === undefined ? {} : { models: values.models }, io })

/**
 * `review FILE --out F.pdf`: the report with pictures of all open gaps; `review FILE --csv`: its table, in mm, to
 * `--out` or the output. Exit 1 when findings are open.
 */
export async function review(call: Call): Promise<number> {
  const { values, io } = call
  const paper = paperOption(call)
  const ofPdf = ['since', 'paper', ...TITLE_OPTIONS] as const
  const beside = values.csv && ofPdf.find(name => values[name] !== undefined)
  if (beside) throw new BadInput(`--csv: found --${beside} too; wanted it for the PDF only`)
  const unit = paperUnit(values)
  const out = values.csv && values.out === undefined ? null : outOption(call)
  const now = await checked(call)
  const { document, solved, findings, meshes } = now
  const decisions = decide(findings, document.acceptances)
  if (values.csv) {
    const text = reviewCsv(document, decisions)
    if (out === null) io.out(text)
    else await io.write(out, text)
  } else if (out !== null) {
    const { since } = values
    const earlier = typeof since === 'string' ? await earlierOf(call, since) : null
    const found = earlier && versions(earlier, now)
    const pdf = reviewPdf(document, solved, {
      paper,
      unit,
      titleBlock: titleOptions(call, { sheets: 1 }),
      date: new Date().toISOString().slice(0, 19),
      findings,
      pairs: clearances(document, solved, { within: reachOfFindings(document, meshes), meshes }),
      meshes,
      changes:
        earlier && found
          ? (w, scene) =>
              changesUnits(
                found,
                {
                  title: basename(String(since)),
                  name: namesOfBoth(earlier.document, document),
                  document: earlier.document,
                  now: document,
                },
                figuresIn(unit),
                w,
                scene,
              )
          : null,
    })
    await io.write(out, pdf)
  }
  return decisions.decided.some(isOpen) ? 1 : 0
}

/** `compare FILE EARLIER`: what FILE has changed. Exit 0 when nothing is different, 1 when something is. */
export async function compare(call: Call): Promise<number> {
  const { other, values, io } = call
  if (other === undefined)
    throw new BadInput('compare: found one file; wanted two, as in "dogleg compare FILE EARLIER"')
  const [before, after] = [await earlierOf(call, other), await checked(call)]
  const found = versions(before, after)
  const name = namesOfBoth(before.document, after.document)
  io.out(values.json ? jsonText(asData(found)) : compareText(found, name))
  return isSame(found) ? 0 : 1
}

const versions = (before: Checked, after: Checked): VersionsComparison =>
  compareVersions(before.document, after.document, { before: before.findings, after: after.findings })

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
