import type { SkidDocument } from './types.ts'

/** Order of fields on paper; the same document is the same bytes however it came about. */
const FIELD_ORDER = [
  'format',
  'version',
  'id',
  'key',
  'tag',
  'shape',
  'kind',
  'name',
  'finding',
  'category',
  'note',
  'service',
  'invented',
  'hand',
  'catalogueId',
  'fitting',
  'fileName',
  'hash',
  'bytes',
  'unitMm',
  'up',
  'type',
  'run',
  'by',
  'on',
  'position',
  'at',
  'target',
  'yaw',
  'pitch',
  'span',
  'projection',
  'section',
  'hidden',
  'axis',
  'normal',
  'size',
  'turn',
  'length',
  'radius',
  'insertionDepth',
  'straightNeeded',
  'tubeOd',
  'material',
  'tube',
  'od',
  'wall',
  'clr',
  'bender',
  'endA',
  'vertices',
  'endB',
  'trimAllowance',
  'insulation',
  'insulationCutBack',
  'quantity',
  'clearances',
  'supportSpan',
  'fittings',
  'solids',
  'models',
  'benders',
  'runs',
  'supports',
  'acceptances',
  'viewpoints',
]
const RANK = new Map(FIELD_ORDER.map((name, i) => [name, i]))

/** A value whose one-line form is this short stays on one line: a vertex, a point, a port. Characters. */
const ONE_LINE = 100

/**
 * The document as JSON text: two-space indent, short values on one line, fields in a fixed order, a newline at the
 * end. readDocument gives the same document back, every number bit for bit (−0 is written as 0).
 *
 * @throws RangeError naming the place of a number that JSON cannot hold (NaN, ±∞), rather than write a null.
 */
export function writeDocument(document: SkidDocument): string {
  return `${written(document, '', '').text}\n`
}

interface Written {
  readonly text: string
  readonly oneLine: boolean
}

/** What an edit does not touch keeps its identity, and so its text: of thousands of runs only the changed are written. */
const known = new WeakMap<object, Written>()
/** Of the entries of the document's own lists: runs, solids … */
const ENTRY_INDENT = '    '

function written(value: unknown, indent: string, path: string): Written {
  if (indent !== ENTRY_INDENT || typeof value !== 'object' || value === null)
    return writtenAnew(value, indent, path)
  let entry = known.get(value)
  if (!entry) {
    entry = writtenAnew(value, indent, path)
    known.set(value, entry)
  }
  return entry
}

function writtenAnew(value: unknown, indent: string, path: string): Written {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${path}: found ${value}, wanted a finite number`)
    return { text: JSON.stringify(value), oneLine: true }
  }
  if (typeof value !== 'object' || value === null) return { text: JSON.stringify(value), oneLine: true }
  const deeper = `${indent}  `
  const isList = Array.isArray(value)
  const parts = isList
    ? value.map((entry, i) => written(entry, deeper, `${path}[${i}]`))
    : fieldsOf(value).map(([name, entry]) => {
        const w = written(entry, deeper, path === '' ? name : `${path}.${name}`)
        return { text: `${JSON.stringify(name)}: ${w.text}`, oneLine: w.oneLine }
      })
  const [open, close] = isList ? ['[', ']'] : ['{', '}']
  if (parts.length === 0) return { text: open + close, oneLine: true }
  const size = parts.reduce((n, p) => n + p.text.length + 2, 2)
  if (path !== '' && size <= ONE_LINE && parts.every(p => p.oneLine)) {
    const inside = parts.map(p => p.text).join(', ')
    return { text: isList ? `[${inside}]` : `{ ${inside} }`, oneLine: true }
  }
  const lines = parts.map(p => `${deeper}${p.text}`).join(',\n')
  return { text: `${open}\n${lines}\n${indent}${close}`, oneLine: false }
}

function fieldsOf(value: object): [string, unknown][] {
  const last = FIELD_ORDER.length
  return Object.entries(value).sort(
    ([a], [b]) => (RANK.get(a) ?? last) - (RANK.get(b) ?? last) || (a < b ? -1 : a > b ? 1 : 0),
  )
}
