import { basename } from 'node:path'
import { compareVersions } from '../checks/compareVersions.ts'
import { decide, isOpen } from '../checks/decisions.ts'
import { namesOfBoth } from '../outputs/compareText.ts'
import { changesUnits } from '../outputs/review/changes.ts'
import { figuresIn } from '../outputs/review/names.ts'
import { reviewPdf } from '../outputs/review/reviewSheets.ts'
import { reviewCsv } from '../outputs/reviewReport.ts'
import { clearances } from '../skid/clearance.ts'
import { reachOfFindings } from '../skid/clearanceFindings.ts'
import { BadInput } from './badInput.ts'
import { checkedVersion, earlierVersion } from './checkedVersion.ts'
import { type Call, command } from './command.ts'
import { now } from './jobOf.ts'
import { MODELS_OPTION, OF_A_TABLE, OUT_OPTION, PAPER_OPTION, TITLE_OPTIONS } from './options.ts'
import { outOption, paperOption, paperUnit } from './optionValue.ts'
import { titleOptions } from './titleBlock.ts'

/** What the PDF takes and the table does not. */
const OF_PDF = { since: { takes: 'EARLIER' }, ...PAPER_OPTION, ...TITLE_OPTIONS } as const
const OPTIONS = {
  ...OF_A_TABLE,
  ...MODELS_OPTION,
  ...OUT_OPTION,
  csv: { takes: null },
  ...OF_PDF,
} as const

async function run(call: Call<typeof OPTIONS>): Promise<number> {
  const { values, io } = call
  const paper = paperOption(values)
  const ofPdf = Object.keys(OF_PDF) as (keyof typeof OF_PDF)[]
  const beside = values.csv && ofPdf.find(name => values[name] !== undefined)
  if (beside) throw new BadInput(`--csv: found --${beside} too; wanted it for the PDF only`)
  const unit = paperUnit(values)
  const out = values.csv && values.out === undefined ? null : outOption(values)
  const version = await checkedVersion(call)
  const { document, solved, findings, meshes } = version
  const decisions = decide(findings, document.acceptances)
  if (values.csv) {
    const text = reviewCsv(document, decisions)
    if (out === null) io.out(text)
    else await io.write(out, text)
  } else if (out !== null) {
    const { since } = values
    const earlier = since === undefined ? null : await earlierVersion(call, since)
    const found =
      earlier && compareVersions(earlier.document, document, { before: earlier.findings, after: findings })
    const pdf = await reviewPdf(document, solved, {
      paper,
      unit,
      titleBlock: titleOptions(values, { sheets: 1 }),
      date: now(),
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

/**
 * `review FILE --out F.pdf`: the report with pictures of all open gaps; `review FILE --csv`: its table, in mm, to
 * `--out` or the output. Exit 1 when findings are open.
 */
export const review = command({
  name: 'review',
  help: `  dogleg review FILE [--since EARLIER] [--paper A4|A3|Letter] --out F.pdf
  dogleg review FILE --csv [--out F.csv]
                               the review report with a picture of each open gap, and what has changed since an
                               earlier version; or its table, in mm
`,
  options: OPTIONS,
  run,
})
