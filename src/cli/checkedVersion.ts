import { allFindings } from '../checks/allFindings.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { modelBodies } from '../skid/models/modelBodies.ts'
import type { MeshBody } from '../skid/parts.ts'
import { solveDocument } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { Asked } from './command.ts'
import { documentFrom } from './documentFrom.ts'
import { modelsOf } from './modelsOf.ts'

/** A version of a skid with all that its checks found. */
export interface CheckedVersion {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  readonly findings: readonly Finding[]
  readonly meshes: readonly MeshBody[]
}

export async function checkedVersion({ file, values, io }: Asked): Promise<CheckedVersion> {
  const document = await documentFrom(file, values, io, { unitOfPaper: !values['csv'] })
  const solved = solveDocument(document)
  const models = await modelsOf(document, { file, values, io })
  const findings = allFindings(document, solved, models)
  return { document, solved, findings, meshes: modelBodies(document, models.trees).bodies }
}

/** An earlier version in another file: always a skid document. */
export const earlierVersion = ({ values, io }: Omit<Asked, 'file'>, file: string): Promise<CheckedVersion> =>
  checkedVersion({
    file,
    values: values['models'] === undefined ? {} : { models: values['models'] },
    io,
  })
