import type { Run, SkidDocument } from './types.ts'

/** What many runs are to have in common; what is left out stays each run's own. Lengths mm. */
export interface RunChange {
  /** From the table with its id, or a person's own figures with null. */
  readonly size?: { readonly catalogueId: string | null; readonly od: number; readonly wall: number }
  readonly material?: string
  readonly clr?: number
  readonly bender?: string | null
  readonly service?: string
  readonly insulation?: number
  /** How far from either end the insulation begins. */
  readonly insulationCutBack?: number
  readonly trimAllowance?: number
  readonly quantity?: number
}

/** A change of many runs that is not made, with everything that is wrong with it. */
export interface BulkRefusal {
  readonly refused: readonly string[]
}

const mm = (value: number) => `${Number(value.toFixed(4))} mm`

/** What is wrong with the figures of a change, each with what was found and what is wanted; none when it can be made. */
export function faultsOf(document: SkidDocument, change: RunChange): string[] {
  const faults: string[] = []
  const least = (name: string, value: number | undefined, wanted: 'above 0' | '0 or more') => {
    if (value === undefined) return
    const good = Number.isFinite(value) && (wanted === 'above 0' ? value > 0 : value >= 0)
    if (!good) faults.push(`${name} is ${mm(value)}; it must be ${wanted}.`)
  }
  const { size, material, bender, quantity } = change
  if (size) {
    least('OD', size.od, 'above 0')
    least('Wall', size.wall, 'above 0')
    if (size.wall > 0 && size.od > 0 && 2 * size.wall >= size.od)
      faults.push(`A wall of ${mm(size.wall)} leaves no bore in an OD of ${mm(size.od)}.`)
  }
  if (material !== undefined && material.trim() === '') faults.push('Material is empty; say what it is.')
  least('CLR', change.clr, 'above 0')
  least('Insulation', change.insulation, '0 or more')
  least('Insulation cut back', change.insulationCutBack, '0 or more')
  least('Trim allowance', change.trimAllowance, '0 or more')
  if (bender !== undefined && bender !== null && !document.benders.some(b => b.id === bender))
    faults.push(`The skid has no bender "${bender}".`)
  if (quantity !== undefined && !(Number.isInteger(quantity) && quantity >= 1))
    faults.push(`Quantity is ${quantity}; it must be a whole number of 1 or more.`)
  return faults
}

function changed(run: Run, change: RunChange): Run {
  const { size, material, ...rest } = change
  const wanted: Partial<Run> = {
    ...rest,
    ...(rest.service === undefined ? {} : { service: rest.service.trim() }),
  }
  const tube = {
    ...run.tube,
    ...(size ? { catalogueId: size.catalogueId, od: size.od, wall: size.wall } : {}),
    ...(material === undefined ? {} : { material: material.trim() }),
  }
  const sameTube =
    tube.catalogueId === run.tube.catalogueId &&
    tube.od === run.tube.od &&
    tube.wall === run.tube.wall &&
    tube.material === run.tube.material
  const same = (Object.keys(wanted) as (keyof Run)[]).every(key => wanted[key] === run[key])
  return same && sameTube ? run : { ...run, ...wanted, tube: sameTube ? run.tube : tube }
}

/**
 * The document with the change made to all runs whose id is among `ids`; a run that has all of it already stays the
 * same object, and so does the document when no run is another one. Or why the change is not made to any of them.
 */
export function changeRuns(
  document: SkidDocument,
  ids: ReadonlySet<string>,
  change: RunChange,
): SkidDocument | BulkRefusal {
  const faults = faultsOf(document, change)
  const missing = [...ids].filter(id => !document.runs.some(r => r.id === id))
  if (ids.size === 0) faults.push('No run is selected.')
  if (missing.length > 0) faults.push(`The skid has no run ${missing.map(id => `"${id}"`).join(', ')}.`)
  if (faults.length > 0) return { refused: faults }
  const runs = document.runs.map(run => (ids.has(run.id) ? changed(run, change) : run))
  return runs.every((run, i) => run === document.runs[i]) ? document : { ...document, runs }
}

/** The document without these runs and without what holds them. */
export const removeRuns = (document: SkidDocument, ids: ReadonlySet<string>): SkidDocument => ({
  ...document,
  runs: document.runs.filter(r => !ids.has(r.id)),
  supports: document.supports.filter(s => !ids.has(s.run)),
})
