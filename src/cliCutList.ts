import { BadInput } from './badInput.ts'
import { type Call, documentFrom, lengthOrNothing } from './cliInput.ts'
import { outOption, paperOption } from './cliOutputs.ts'
import type { SkidDocument } from './document/types.ts'
import { type CutOptions, cutList } from './outputs/cutList.ts'
import { cutListCommand, cutListSheetCommand } from './outputs/outputsCommand.ts'
import { remnantFromText, stockFromText, tubeKinds } from './outputs/stockWords.ts'
import { solveDocument } from './solve/solveRun.ts'

/**
 * `cutlist FILE`: all runs nested on stock, as text or JSON, or with `--out` as F.pdf or F.csv. Exit 1 when a run could
 * not be put in it.
 */
export async function cutlist(call: Call): Promise<number> {
  const { file, values, io } = call
  const out = values.out === undefined ? null : outOption(call)
  if (out !== null && !/\.(pdf|csv)$/i.test(out))
    throw new BadInput(`--out: found "${out}"; wanted a name that ends in .pdf or .csv`)
  const paper = paperOption(call)
  const document = await documentFrom(file, values, io)
  const solved = solveDocument(document)
  const options = cutOptions(call, document)
  const { leftOut } = cutList(document, solved, options)
  for (const { tag, reason } of leftOut) io.err(`dogleg: ${tag} is not in the cut list: ${reason}\n`)
  const as = (format: 'text' | 'json' | 'csv') => cutListCommand(document, solved, { ...options, format })
  if (out === null) io.out(as(values.json ? 'json' : 'text'))
  else if (/\.csv$/i.test(out)) await io.write(out, as('csv'))
  else {
    const date = new Date().toISOString().slice(0, 19)
    await io.write(out, cutListSheetCommand(document, solved, { ...options, paper, date }))
  }
  return leftOut.length > 0 ? 1 : 0
}

function cutOptions({ values }: Call, document: SkidDocument): CutOptions {
  const kinds = tubeKinds(document.runs.map(r => r.tube))
  const stock = (values.stock ?? []).map(t => stockFromText(t, '--stock', 'mm'))
  const kerf = lengthOrNothing(values, 'kerf')
  const endTrim = lengthOrNothing(values, 'trim')
  const leastRemnant = lengthOrNothing(values, 'least-remnant')
  return {
    ...(stock.length > 0 ? { stock } : {}),
    remnants: (values.remnant ?? []).map(t => remnantFromText(t, '--remnant', 'mm', kinds)),
    ...(kerf === undefined ? {} : { kerf }),
    ...(endTrim === undefined ? {} : { endTrim }),
    ...(leastRemnant === undefined ? {} : { leastRemnant }),
  }
}
