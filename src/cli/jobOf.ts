import type { SkidDocument } from '../document/types.ts'
import { solveDocument } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BadInput } from './badInput.ts'
import type { Asked } from './command.ts'
import { documentFrom } from './documentFrom.ts'

/** What an output is made of. */
export interface Job {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  /** ISO 8601 date-time of making, to the second. */
  readonly date: string
}

/** Reads and solves the file of a command that may name one run. @throws BadInput when it names none of them. */
export async function jobOf(
  { file, values, io }: Asked,
  allowed: { readonly unitOfPaper?: boolean } = {},
): Promise<Job> {
  const document = await documentFrom(file, values, io, allowed)
  const solved = solveDocument(document)
  const run = values['run']
  if (run !== undefined && !solved.some(s => s.tag === run))
    throw new BadInput(`--run: found "${run}"; wanted one of ${tagsOf(solved)}`)
  return { document, solved, date: now() }
}

/** ISO 8601 date-time, to the second. */
export const now = (): string => new Date().toISOString().slice(0, 19)

export const tagsOf = (solved: readonly SolvedRun[]): string =>
  solved.map(s => `"${s.tag}"`).join(', ') || 'no runs at all'

export const runOption = ({ run }: { readonly run?: string | undefined }): { run?: string } =>
  run === undefined ? {} : { run }
